"""The page of the record: is it whole, which backups there are, take one away, and restore what is damaged."""

from __future__ import annotations

from flask import Blueprint, redirect, render_template, request, send_file, url_for
from flask import Response as FlaskResponse
from werkzeug.wrappers import Response as Answer

from station.core.messages import SeeRestoring
from station.errors import StationError
from station.phone import guard
from station.phone.record_view import RecordDesk
from station.phone.shelf import Ask


def record_pages(desk: RecordDesk, ask: Ask) -> Blueprint:
    """The routes under /record."""
    bp = Blueprint("keeping", __name__, url_prefix="/record")

    @bp.app_context_processor
    def everywhere() -> dict[str, bool]:
        return {"has_record_page": True}

    def page(said: str = "", good: bool = True) -> str:
        return render_template("keeping.html", view=desk.view(), said=said, good=good)

    @bp.get("")
    def record() -> str:
        return page(request.args.get("said", "")[:300])

    @bp.post("/backup")
    def backup() -> tuple[str, int] | str:
        try:
            return page(desk.back_up(guard.device()))
        except StationError as refusal:
            return page(refusal.sentence(), False), 409

    @bp.post("/restore")
    def restore() -> tuple[str, int] | str:
        try:
            return page(desk.restore(guard.device()))
        except StationError as refusal:
            return page(refusal.sentence(), False), 409

    @bp.post("/seen")
    def seen() -> tuple[str, int] | Answer:
        try:
            ask(SeeRestoring(guard.device()))
        except StationError as refusal:
            return page(refusal.sentence(), False), 409
        return redirect(url_for("keeping.record"), 303)

    @bp.post("/take")
    def take() -> FlaskResponse:
        # A form, not a link: what is in a backup is for paired devices only.
        file = desk.taken(request.form.get("name", ""), guard.device())
        return send_file(file, mimetype="application/zip", as_attachment=True, download_name=file.name)

    return bp
