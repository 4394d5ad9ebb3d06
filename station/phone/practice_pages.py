"""The page of pouring: practise with water, see what the pours have taught, forget it."""

from __future__ import annotations

from collections.abc import Callable

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as Answer

from station.board import Board
from station.core.mass import Mass
from station.core.material import ScaleCard
from station.core.pouring_messages import BeginPractice, EndPractice, ForgetPours, PouringCommand
from station.errors import StationError
from station.phone import guard, orders
from station.phone.practice_view import learned_rows
from station.phone.shelf import Ask, Shelf
from station.quantities import some_mass
from station.texts import t

PLAIN = {"target": "50", "percent": "2", "times": "5"}
TEXT_LIMIT = 40
PLAIN_CARD = ScaleCard(Mass.grams("0.1"), Mass.grams(3000))


def practice_pages(board: Board, ask: Ask, card: ScaleCard, shelf: Shelf) -> Blueprint:
    """The routes under /practice; `shelf` says what the materials are called."""
    bp = Blueprint("practice", __name__)

    def page(said: str = "", typed: dict[str, str] | None = None) -> str:
        seen = board.latest()
        return render_template(
            "practice.html",
            rows=learned_rows(() if seen is None else seen.pours, {one.key: one.title for one in shelf.materials()}),
            typed=PLAIN | (typed or {}),
            said=said,
        )

    def asked(command: Callable[[dict[str, str]], PouringCommand]) -> Answer | tuple[str, int]:
        typed = {name: value[:TEXT_LIMIT] for name, value in request.form.items() if name != "token"}
        try:
            ask(command(typed))
        except StationError as refusal:
            return page(refusal.sentence(), typed), 409
        return redirect(url_for("practice.practice"), 303)

    @bp.get("/practice")
    def practice() -> str:
        return page()

    @bp.post("/practice/begin")
    def begin() -> Answer | tuple[str, int]:
        return asked(lambda typed: _begin(typed, card))

    @bp.post("/practice/end")
    def end() -> Answer | tuple[str, int]:
        return asked(lambda _: EndPractice(guard.device()))

    @bp.post("/practice/forget")
    def forget() -> Answer | tuple[str, int]:
        return asked(
            lambda typed: ForgetPours(
                typed.get("material", ""), typed.get("ingredient", ""), "everything" in typed, guard.device()
            )
        )

    return bp


def _begin(typed: dict[str, str], card: ScaleCard) -> BeginPractice:
    target = some_mass(orders.text(typed, "target", t("how much water"), TEXT_LIMIT), bare="g")
    near, often = t("how near, in %"), t("how often")
    percent = _number(orders.text(typed, "percent", near, TEXT_LIMIT), near)
    times = _number(orders.text(typed, "times", often, TEXT_LIMIT), often)
    return BeginPractice(target, percent, int(times), card, guard.device())


def _number(typed: str, name: str) -> float:
    try:
        value = float(typed.replace(",", "."))
    except ValueError:
        value = float("nan")
    if not 0 <= value < 1000:
        raise orders.NotUnderstood(t("{name}: {typed} is no number from 0 to 999.", name=name, typed=repr(typed)))
    return value
