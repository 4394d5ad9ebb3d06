"""How the pages and the API say no: each kind of refusal its status, a sentence, and a page or JSON."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from flask import Flask, Response, g, jsonify, render_template, request
from werkzeug.exceptions import MethodNotAllowed

from station.errors import Fault, Refused, SettingsError, StationError
from station.phone import guard
from station.phone.limits import TooOften
from station.phone.orders import NotUnderstood
from station.texts import t


def answer_no(app: Flask) -> None:
    """Each kind of no has its own answer; none is a traceback."""
    kinds: Mapping[type[StationError], int] = {
        guard.Locked: 403,
        TooOften: 429,
        guard.Foreign: 403,
        NotUnderstood: 400,
        Refused: 409,
        SettingsError: 409,
        Fault: 503,
    }
    for kind, status in kinds.items():
        app.register_error_handler(kind, _saying(status))
    app.register_error_handler(404, lambda _: _plain(t("There is no such page here."), 404))
    app.register_error_handler(405, _wrong_method)
    app.register_error_handler(413, lambda _: _plain(t("That is too much text. Send less."), 413))
    app.register_error_handler(500, lambda _: _plain(t("Something went wrong here; the bench goes on."), 500))


def _wrong_method(error: MethodNotAllowed) -> Response:
    answer = _plain(t("This address does not take that kind of request."), 405)
    answer.headers["Allow"] = ", ".join(sorted(error.valid_methods or ()))
    return answer


def _saying(status: int) -> Callable[[StationError], tuple[Response | str, int]]:
    def answer(error: StationError) -> tuple[Response | str, int]:
        g.refusal = error
        if _for_a_program():
            return jsonify({"refused": error.sentence()}), status
        if isinstance(error, guard.Closed):
            return render_template("locked.html"), status
        return render_template("refused.html", said=error.sentence()), status

    return answer


def _plain(words: str, status: int) -> Response:
    if _for_a_program():
        answer = jsonify({"refused": words})
        answer.status_code = status
        return answer
    return Response(f"{words}\n", status, mimetype="text/plain; charset=utf-8")


def _for_a_program() -> bool:
    """Whether the answer is read by a script: a form that is sent to the API without one wants a page."""
    return request.path.startswith("/api/") and (request.is_json or request.method in guard.LOOKING)
