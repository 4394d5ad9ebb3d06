"""Touch: the API. State and stream for looking; presses, acknowledgements and other commands for acting."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from flask import Blueprint, Response, jsonify, request

from station.board import Board
from station.core.messages import Command
from station.errors import Fault
from station.phone import orders
from station.phone.guard import device
from station.phone.shelf import Ask
from station.phone.stream import Streams
from station.phone.wire import state


class NotYet(Fault):
    """The bench has nothing to show yet."""

    hint = "Reload in a moment."


Understand = Callable[[Mapping[str, object], str], Command]

ORDERS: Mapping[str, Understand] = {
    "press": orders.pressed,
    "acknowledge": orders.acknowledged,
    "abort": orders.given_up,
    "demold": orders.demolded,
    "note": orders.noted,
}
"""What a paired device may ask of the bench, by the last part of the address."""


def touch(board: Board, ask: Ask, streams: Streams) -> Blueprint:
    """The routes under /api."""
    api = Blueprint("api", __name__, url_prefix="/api")

    @api.get("/state")
    def now() -> Response:
        latest = board.latest()
        if latest is None:
            raise NotYet("The bench has just started.")
        return jsonify(state(latest))

    @api.get("/stream")
    def stream() -> Response:
        events = streams.opened()
        if events is None:
            raise NotYet("Too many pages are open for live news; this one must be reloaded by hand.")
        return Response(events, mimetype="text/event-stream", headers={"X-Accel-Buffering": "no"})

    for name, understand in ORDERS.items():
        api.add_url_rule(f"/{name}", name, _asking(ask, understand), methods=["POST"])
    return api


def _asking(ask: Ask, understand: Understand) -> Callable[[], Response]:
    def route() -> Response:
        body = request.get_json(silent=True)
        if not isinstance(body, dict):
            raise orders.NotUnderstood("The request is not a JSON object.")
        return jsonify({"cast": ask(understand(body, device()))})

    return route
