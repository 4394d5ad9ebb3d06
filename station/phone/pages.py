"""The pages as they are first served: complete without any script, and kept live by it."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as Answer

from station.board import Board
from station.config import Look
from station.phone import guard
from station.phone.wire import state


def pages(board: Board, station: str, look: Look) -> Blueprint:
    """Bench and curing."""
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

    @bp.get("/give-up/<int:number>")
    def give_up(number: int) -> str:
        return render_template("give_up.html", number=number)

    @bp.get("/favicon.ico")
    def icon() -> Answer:
        return redirect(url_for("static", filename="icon.svg"))

    return bp
