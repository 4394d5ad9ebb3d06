"""The pages as they are first served: complete without any script, and kept live by it."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, redirect, render_template, request, session, url_for
from werkzeug.wrappers import Response as Answer

from station.board import Board
from station.errors import StationError
from station.phone import guard
from station.phone.pairing import Doorkeeper
from station.phone.wire import state


def pages(board: Board, door: Doorkeeper, station: str) -> Blueprint:
    """Bench, curing and pairing."""
    bp = Blueprint("pages", __name__)

    @bp.app_context_processor
    def everywhere() -> dict[str, Any]:
        latest = board.latest()
        return {
            "s": None if latest is None else state(latest),
            "station": station,
            "paired": guard.paired(door.good),
            "token": guard.token(),
            "here": request.path,
        }

    @bp.get("/")
    def bench() -> str:
        return render_template("bench.html")

    @bp.get("/curing")
    def curing() -> str:
        return render_template("curing.html")

    @bp.get("/pair")
    def pair() -> str:
        return render_template("pair.html", said="", asked=False)

    @bp.post("/pair/ask")
    def pair_ask() -> str | tuple[str, int]:
        try:
            door.ask()
        except StationError as refusal:
            return render_template("pair.html", said=refusal.sentence(), asked=False), 409
        return render_template("pair.html", said="", asked=True)

    @bp.post("/pair")
    def pair_open() -> Answer | tuple[str, int]:
        typed = "".join(c if c.isprintable() else " " for c in request.form.get("device", ""))
        name = " ".join(typed.split())[:40] or "a phone"
        try:
            door.open(request.form.get("code", "")[:20])
        except StationError as refusal:
            return render_template("pair.html", said=refusal.sentence(), asked=True), 409
        session["pairing"] = door.ticket(name)
        return redirect(url_for("pages.bench"), 303)

    @bp.post("/pair/leave")
    def pair_leave() -> Answer:
        session.pop("pairing", None)
        return redirect(url_for("pages.pair"), 303)

    @bp.get("/give-up/<int:number>")
    def give_up(number: int) -> str:
        return render_template("give_up.html", number=number)

    @bp.get("/favicon.ico")
    def icon() -> Answer:
        return redirect(url_for("static", filename="icon.svg"))

    return bp
