"""The pages as they are first served: complete without any script, and kept live by it."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, abort, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as Answer

from station.board import Board
from station.config import Look
from station.errors import StationError
from station.phone import guard, orders
from station.phone.shelf import Ask, Shelf
from station.phone.wire import state
from station.phone.words import day_text

LOG_PAGE = 30
LOG_END = 999_999_999
Form = dict[str, str]


def pages(board: Board, shelf: Shelf, station: str, ask: Ask, look: Look) -> Blueprint:
    """Bench, curing, log, record and new cast."""
    bp = Blueprint("pages", __name__)

    @bp.app_context_processor
    def everywhere() -> dict[str, Any]:
        # A page that is shown to everybody tells nothing of a bench that only paired devices may look at.
        latest = board.latest() if guard.may_look(look) else None
        return {
            "s": None if latest is None else state(latest),
            "station": station,
            "paired": guard.paired(),
            "may_look": guard.may_look(look),
            "free_look": look is Look.FREE,
            "token": guard.token(),
            "here": request.path,
        }

    @bp.get("/")
    def bench() -> str:
        return render_template("bench.html")

    @bp.get("/curing")
    def curing() -> str:
        return render_template("curing.html")

    @bp.get("/log")
    def log() -> str:
        first = min(max(0, request.args.get("from", 0, type=int) or 0), LOG_END)
        lines = list(shelf.casts(LOG_PAGE + 1, first))
        more = len(lines) > LOG_PAGE
        rows = [(line, day_text(line.begun)) for line in lines[:LOG_PAGE]]
        return render_template("log.html", rows=rows, first=first, step=LOG_PAGE, more=more)

    @bp.get("/log/<int:number>")
    def record(number: int) -> str:
        text = shelf.record_text(number)
        if text is None:
            abort(404)
        return render_template("record.html", number=number, text=text)

    @bp.route("/new", methods=["GET", "POST"])
    def new() -> str | Answer | tuple[str, int]:
        form: Form = {name: value[:120] for name, value in request.form.items()}
        said, plan = "", None
        if request.method == "POST":
            try:
                plan = orders.begun(_of_chosen(form), guard.device(), shelf)
                if "begin" in form:
                    ask(plan)
                    return redirect(url_for("pages.bench"), 303)
            except StationError as refusal:
                said, plan = refusal.sentence(), None
        body = render_template(
            "new.html",
            materials=shelf.materials(),
            molds=shelf.molds(),
            form=form,
            said=said,
            plan=None if plan is None else plan.plan,
            lots={m.key: shelf.lots_of(m) for m in shelf.materials()},
        )
        return (body, 409) if said else body

    @bp.get("/give-up/<int:number>")
    def give_up(number: int) -> str:
        return render_template("give_up.html", number=number)

    @bp.get("/favicon.ico")
    def icon() -> Answer:
        return redirect(url_for("static", filename="icon.svg"))

    return bp


def _of_chosen(form: Form) -> Form:
    """The form without the lots of the materials that were not chosen."""
    mine = f"lot {form.get('material', '')} "
    lots = {f"lot {name.removeprefix(mine)}": value for name, value in form.items() if name.startswith(mine)}
    return {name: value for name, value in form.items() if not name.startswith("lot ")} | lots
