"""The calendar: one cast's dates as a file, all of them at a secret address, and the page that shows that address."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, Response, abort, redirect, render_template, request
from werkzeug.wrappers import Response as Answer

from station.phone.calendar_view import CalendarDesk
from station.phone.guard import device, paired


def calendar_pages(desk: CalendarDesk) -> Blueprint:
    """The routes under /calendar, and a cast's own file."""
    bp = Blueprint("calendar", __name__)

    @bp.app_context_processor
    def everywhere() -> dict[str, Any]:
        return {"has_calendar_page": True}

    @bp.get("/calendar")
    def calendar() -> str:
        # The address is for paired devices only: whoever has it can read the calendar without pairing.
        address = f"{request.host_url}calendar/{desk.secret()}.ics" if paired() else ""
        return render_template("calendar.html", address=address, why_not=desk.why_not())

    @bp.post("/calendar/renew")
    def renew() -> Answer:
        desk.renew(device())
        return redirect("/calendar", 303)

    @bp.get("/calendar/<secret>.ics")
    def feed(secret: str) -> Response:
        text = desk.feed(secret)
        if text is None:
            abort(404)
        return _ics(text, "tarebell.ics")

    @bp.get("/log/<int:number>/demold.ics")
    def cast(number: int) -> Response:
        return _ics(desk.cast(number), f"cast-{number}.ics")

    return bp


def _ics(text: str, name: str) -> Response:
    answer = Response(text, mimetype="text/calendar")
    answer.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer
