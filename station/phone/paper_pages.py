"""The pages of papers and exports: a cast's record and its labels as PDF, and the log to take away."""

from __future__ import annotations

from typing import IO, Any

from flask import Blueprint, abort, redirect, render_template, request, send_file, url_for
from flask import Response as FlaskResponse
from werkzeug.wrappers import Response as Answer

from station.errors import StationError, WrongField
from station.phone.log_view import LogBook
from station.phone.paper_view import Making, PaperDesk

_PDF = "application/pdf"
_NO_LABEL = 400


def paper_pages(desk: PaperDesk, log: LogBook) -> Blueprint:
    """The routes /log/….pdf, /labels and /export."""
    bp = Blueprint("paper", __name__)

    @bp.app_context_processor
    def everywhere() -> dict[str, bool]:
        return {"has_paper": True}

    def there(number: int) -> None:
        if not log.number(number):
            abort(404)

    @bp.get("/log/<int:number>.pdf")
    def record(number: int) -> FlaskResponse:
        there(number)
        return _sent(desk.record(number, request.url_root), f"cast-{number}.pdf")

    @bp.get("/labels/<int:number>")
    def labels(number: int) -> str:
        there(number)
        return _label_page(desk, number)

    @bp.get("/labels/<int:number>.pdf")
    def label_file(number: int) -> FlaskResponse | tuple[str, int]:
        there(number)
        try:
            return _sent(desk.labels(number, _typed(), request.url_root), f"labels-{number}.pdf")
        except WrongField as slip:
            return _label_page(desk, number, slip), _NO_LABEL

    def page(said: str = "") -> str:
        return render_template(
            "export.html",
            view=desk.state(),
            Making=Making,
            years=desk.years(),
            photos_mib=desk.photos_mib(),
            tables=desk.about(),
            rules=desk.rules(),
            said=said,
        )

    @bp.get("/export")
    def export() -> str:
        return page()

    @bp.post("/export/make")
    def make() -> Answer | tuple[str, int]:
        try:
            desk.begin(request.form.get("what", ""))
        except StationError as refusal:
            return page(refusal.sentence()), 409
        return redirect(url_for("paper.export"), 303)

    @bp.post("/export/stop")
    def stop() -> Answer:
        desk.stop()
        return redirect(url_for("paper.export"), 303)

    @bp.post("/export/take")
    def take() -> FlaskResponse | tuple[str, int]:
        # A form, not a link: the whole log is for paired devices only.
        try:
            name, content = desk.made()
        except StationError as refusal:
            return page(refusal.sentence()), 409
        return _kept_nowhere(send_file(content, mimetype="application/zip", as_attachment=True, download_name=name))

    return bp


def _typed() -> dict[str, str]:
    """What was chosen for labels."""
    chosen = {
        "on": request.args.get("on", ""),
        "size": request.args.get("size", ""),
        "copies": request.args.get("copies", ""),
        "start": request.args.get("start", ""),
        "at": request.args.get("at", ""),
    }
    return {name: value for name, value in chosen.items() if value}


def _label_page(desk: PaperDesk, number: int, slip: WrongField | None = None) -> str:
    typed: dict[str, Any] = {"copies": "1", "start": "1", **_typed()}
    return render_template(
        "labels.html",
        number=number,
        kinds=desk.kinds(),
        sizes=desk.sizes(),
        addresses=desk.addresses(),
        own=request.url_root,
        typed=typed,
        slip=slip,
    )


def _sent(content: IO[bytes], name: str) -> FlaskResponse:
    """Shown in the browser, which can print it; saved under this name."""
    return _kept_nowhere(send_file(content, mimetype=_PDF, download_name=name))


def _kept_nowhere(answer: FlaskResponse) -> FlaskResponse:
    """A cast goes on: what was told of it is not to be shown again for what it has become."""
    answer.headers["Cache-Control"] = "no-store"
    return answer
