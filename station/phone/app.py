"""The Flask application: pages and API, nothing but translation between requests and the bench."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass

from flask import Flask, Response, g, request
from werkzeug.routing import IntegerConverter

from station.board import Board
from station.config import Look
from station.core.material import ScaleCard
from station.phone import guard
from station.phone.benches_pages import BenchesDesk, benches_pages
from station.phone.binding import bind
from station.phone.calendar_pages import calendar_pages
from station.phone.calendar_view import CalendarDesk
from station.phone.climate_pages import climate_pages
from station.phone.climate_view import ClimateDesk
from station.phone.door_pages import door_pages, ear_of
from station.phone.doorkeeper import Doorkeeper
from station.phone.files import page_root
from station.phone.insight_pages import insight_pages
from station.phone.insight_typed import FactBook
from station.phone.judge_pages import judge_pages
from station.phone.judge_view import JudgeDesk
from station.phone.learning_pages import learning_pages
from station.phone.learning_view import LearningBook
from station.phone.limits import RATES, Limits, TooOften
from station.phone.log_pages import log_pages
from station.phone.log_view import LogBook
from station.phone.material_pages import Sheets, material_pages
from station.phone.mold_pages import Molds, mold_pages
from station.phone.mold_view import MoldBook
from station.phone.new_pages import new_pages
from station.phone.pages import pages
from station.phone.paper_pages import paper_pages
from station.phone.paper_view import PaperDesk
from station.phone.photo_pages import photo_pages
from station.phone.photo_view import PhotoDesk
from station.phone.positive_pages import Surveying, positive_pages
from station.phone.practice_pages import PLAIN_CARD, practice_pages
from station.phone.push_pages import push_pages
from station.phone.push_view import PushDesk
from station.phone.record_pages import record_pages
from station.phone.record_view import RecordDesk
from station.phone.saying import say_in
from station.phone.saying_no import answer_no
from station.phone.scale_desk import ScaleDesk
from station.phone.scale_pages import scale_pages
from station.phone.sessions import ClocklessSessions
from station.phone.shelf import Ask, Shelf
from station.phone.static_files import static_files
from station.phone.station_pages import station_pages
from station.phone.station_view import StationDesk
from station.phone.stock_pages import Stock, stock_pages
from station.phone.stream import Streams
from station.phone.time_pages import time_pages
from station.phone.touch import touch
from station.phone.work_pages import work_pages
from station.ports import TimeSource

MAX_BODY = 16 * 1024

HEADERS = {
    "Content-Security-Policy": "default-src 'self'; frame-ancestors 'none'; form-action 'self'; base-uri 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "X-Frame-Options": "DENY",
}


@dataclass(frozen=True, slots=True)
class Web:
    """What the pages are given: they know nothing else of the station."""

    board: Board
    ask: Ask
    shelf: Shelf
    log: LogBook
    door: Doorkeeper
    clock: TimeSource
    streams: Streams
    names: Collection[str]
    secret: bytes
    station: str
    desk: ScaleDesk | None = None
    climate: ClimateDesk | None = None
    survey: Surveying | None = None
    stock: Stock | None = None
    sheets: Sheets | None = None
    record: RecordDesk | None = None
    benches: BenchesDesk | None = None
    overview: StationDesk | None = None
    molds: Molds | None = None
    mold_book: MoldBook | None = None
    look: Look = Look.FREE
    card: ScaleCard = PLAIN_CARD
    push: PushDesk | None = None
    calendar: CalendarDesk | None = None
    photos: PhotoDesk | None = None
    facts: FactBook | None = None
    judging: JudgeDesk | None = None
    paper: PaperDesk | None = None
    learning: LearningBook | None = None


class Number(IntegerConverter):
    """A number in an address, at most nine digits: no database and no list is asked for what cannot be."""

    regex = r"\d{1,9}"


def create_app(web: Web) -> Flask:
    """The application for one station. Raises Fault when the installation lacks the page's files."""
    root = page_root()
    app = Flask(
        "station",
        template_folder=str(root / "templates"),
        static_folder=None,
    )
    static_files(app, root / "static")
    app.config.update(
        SECRET_KEY=web.secret,
        MAX_CONTENT_LENGTH=MAX_BODY,
    )
    app.session_interface = ClocklessSessions()
    app.url_map.converters["int"] = Number
    bind(app)
    say_in(app)
    app.before_request(lambda: guard.recognise(web.door.greet))
    app.register_blueprint(pages(web.board, web.station, web.look))
    app.register_blueprint(door_pages(web.door))
    app.register_blueprint(touch(web.board, web.ask, web.streams, web.shelf, lambda: ear_of(web.door, web.look)))
    app.register_blueprint(new_pages(web.shelf, web.ask))
    app.register_blueprint(log_pages(web.log))
    app.register_blueprint(work_pages(web.shelf, web.board))
    app.register_blueprint(time_pages(web.board, web.ask))
    app.register_blueprint(practice_pages(web.board, web.ask, web.card, web.shelf))
    app.register_blueprint(station_pages(web.overview))
    if web.desk is not None:
        app.register_blueprint(scale_pages(web.desk, web.board))
    if web.survey is not None:
        # Before the guard: it raises the limit of the body for a paired device, and the guard reads the form.
        app.register_blueprint(positive_pages(web.survey))
    if web.photos is not None:
        # Before the guard, as above.
        app.register_blueprint(photo_pages(web.photos, web.log))
    if web.judging is not None:
        # Before the guard, for it takes photos too.
        app.register_blueprint(judge_pages(web.judging, web.log, web.board, web.photos))
    if web.stock is not None:
        app.register_blueprint(stock_pages(web.stock, web.board, web.ask))
    if web.sheets is not None:
        app.register_blueprint(material_pages(web.sheets))
    if web.molds is not None and web.mold_book is not None:
        app.register_blueprint(mold_pages(web.molds, web.mold_book))
    if web.learning is not None:
        for part in learning_pages(web.learning, web.ask):
            app.register_blueprint(part)
    if web.record is not None:
        app.register_blueprint(record_pages(web.record, web.ask))
    if web.climate is not None:
        app.register_blueprint(climate_pages(web.climate))
    if web.benches is not None:
        app.register_blueprint(benches_pages(web.benches, web.board))
    if web.push is not None:
        app.register_blueprint(push_pages(web.push))
    if web.facts is not None:
        app.register_blueprint(insight_pages(web.facts))
    if web.calendar is not None:
        app.register_blueprint(calendar_pages(web.calendar))
    if web.paper is not None:
        app.register_blueprint(paper_pages(web.paper, web.log))
    app.before_request(_guarding(web))
    app.after_request(_with_headers)
    answer_no(app)
    return app


def _guarding(web: Web) -> Callable[[], None]:
    limits = Limits(web.clock, RATES)

    def check() -> None:
        guard.check(request, web.names, web.look)
        limits.check(request.endpoint or "", request.remote_addr)

    return check


def _with_headers(response: Response) -> Response:
    if isinstance(g.get("refusal"), TooOften):
        response.headers["Retry-After"] = str(g.refusal.wait_s)
    for name, value in HEADERS.items():
        response.headers.setdefault(name, value)
    if not request.path.startswith("/static/"):
        response.headers.setdefault("Cache-Control", "no-store")
    return response
