"""The page of all benches at one log: what each has in hand and curing, and acknowledging an alarm for another."""

from __future__ import annotations

from typing import Any, Protocol

from flask import Blueprint, Response, abort, jsonify, redirect, render_template, request
from werkzeug.wrappers import Response as Answer

from station.board import Board
from station.core.clocks import ClockKind
from station.errors import StationError
from station.neighbours import Neighbourhood
from station.phone import orders
from station.phone.benches_view import benches, sounding
from station.phone.guard import device
from station.phone.touch import NotYet
from station.phone.wire_values import Json
from station.texts import t


class BenchesDesk(Protocol):
    """The other benches. No call waits for anything; from many threads at once."""

    @property
    def title(self) -> str:
        """What the others call this bench."""
        ...

    def latest(self) -> Neighbourhood:
        """The shared log as it was last read."""
        ...

    def wish(self, to_bench: int, number: int, clock: ClockKind, by: str) -> None:
        """Wish that another bench acknowledge an alarm. Raises Refused when nobody can carry that now."""
        ...


def benches_pages(desk: BenchesDesk, board: Board) -> Blueprint:
    """The routes under /benches, and /api/benches."""
    bp = Blueprint("benches", __name__)

    @bp.app_context_processor
    def everywhere() -> dict[str, Any]:
        return {"has_benches_page": True, "sounding_elsewhere": sounding(desk.latest()) or ""}

    def shown() -> Json:
        seen = board.latest()
        if seen is None:
            raise NotYet(t("The bench has just started."))
        return benches(desk.latest(), seen, desk.title)

    @bp.get("/benches")
    def page() -> str:
        return render_template("benches.html", said="", **shown())

    @bp.get("/benches/now")
    def part() -> str:
        return render_template("benches_now.html", **shown())

    @bp.get("/api/benches")
    def values() -> Response:
        return jsonify(shown())

    @bp.post("/benches/acknowledge")
    def acknowledge() -> Answer | tuple[str, int]:
        try:
            wished = orders.acknowledged(request.form, device())
            desk.wish(_bench(request.form.get("bench", "")), wished.number, wished.clock, f"{desk.title}: {wished.by}")
        except StationError as refusal:
            return render_template("benches.html", said=refusal.sentence(), **shown()), 409
        return redirect("/benches", 303)

    @bp.get("/benches/<int:bench>/<int:number>")
    def record(bench: int, number: int) -> str:
        cast = next((one for one in desk.latest().casts if (one.bench, one.number) == (bench, number)), None)
        if cast is None:
            abort(404)
        return render_template("benches_record.html", cast=cast)

    return bp


def _bench(typed: str) -> int:
    if typed in tuple("123456789"):
        return int(typed)
    raise orders.NotUnderstood(t("bench must be the digit of a bench, 1 to 9."))
