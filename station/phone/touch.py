"""Touch: the API. State and stream for looking; presses, acknowledgements and other commands for acting."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from functools import partial

from flask import Blueprint, Response, jsonify, redirect, request
from werkzeug.wrappers import Response as Answer

from station import __version__
from station.board import Board
from station.core.messages import Command
from station.errors import Fault
from station.phone import orders
from station.phone.api_description import description
from station.phone.guard import device
from station.phone.shelf import Ask, Shelf
from station.phone.stream import Ear, Streams
from station.phone.wire import state
from station.texts import N_, t

OLD_S = 3.0
"""A page drawn from an older state says so, also without its script."""


class NotYet(Fault):
    """The bench has nothing to show yet."""

    hint = N_("Reload in a moment.")


class TooMany(Fault):
    """No room for another live page."""

    hint = N_("Close a page elsewhere, or reload this one by hand.")


Understand = Callable[[Mapping[str, object], str], Command]

ORDERS: Mapping[str, Understand] = {
    "press": orders.pressed,
    "acknowledge": orders.acknowledged,
    "abort": orders.given_up,
    "demold": orders.demolded,
    "note": orders.noted,
    "take": orders.taken,
}
"""What a paired device may ask of the bench, by the last part of the address."""

ORDERS_OF_SHEETS: Mapping[str, Callable[..., Command]] = {
    "begin": orders.begun,
    "release": orders.released,
    "retire": orders.retired,
    "return": orders.returned,
}
"""The same where a sheet must be looked up, on the shelf that they are given besides."""


def touch(board: Board, ask: Ask, streams: Streams, shelf: Shelf, ear: Callable[[], Ear]) -> Blueprint:
    """The routes under /api. `ear` tells who listens to the stream that is asked for."""
    api = Blueprint("api", __name__, url_prefix="/api")

    @api.app_context_processor
    def age() -> dict[str, int]:
        age_s = streams.age_s(board.latest())
        return {"old_s": int(age_s) if age_s > OLD_S else 0}

    @api.get("/state")
    def now() -> Response:
        latest = board.latest()
        if latest is None:
            raise NotYet(t("The bench has just started."))
        return jsonify({**state(latest), "age_s": round(streams.age_s(latest), 2)})

    @api.get("/stream")
    def stream() -> Response:
        events = streams.opened(ear())
        if events is None:
            raise TooMany(t("Too many pages are open for live news."))
        return Response(events, mimetype="text/event-stream", headers={"X-Accel-Buffering": "no"})

    described = description(__version__)

    @api.get("/openapi.json")
    def about() -> Response:
        return jsonify(described)

    for name, understand in ORDERS.items():
        api.add_url_rule(f"/{name}", name, _asking(ask, understand), methods=["POST"])
    for name, of_sheets in ORDERS_OF_SHEETS.items():
        api.add_url_rule(f"/{name}", name, _asking(ask, partial(of_sheets, shelf=shelf)), methods=["POST"])
    return api


def _asking(ask: Ask, understand: Understand) -> Callable[[], Answer]:
    """A route that takes JSON from a script, or a form from a page without one, which is then sent back."""

    def route() -> Answer:
        if not request.is_json:
            ask(understand(request.form, device()))
            return redirect(_back(request.form.get("back", "")), 303)
        body = request.get_json(silent=True)
        if not isinstance(body, dict):
            raise orders.NotUnderstood(t("The request is not a JSON object."))
        return jsonify({"cast": ask(understand(body, device()))})

    return route


def _back(place: str) -> str:
    """A page of this station; anything else leads to the bench."""
    return place if re.fullmatch(r"/(curing|log/[0-9]{1,9}|molds(/[a-z0-9-]{1,120})?)?", place) else "/"
