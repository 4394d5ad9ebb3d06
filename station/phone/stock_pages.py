"""The page of the stock: what is left of each lot, which goes next, what is wrong with it, and weighing a container."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Protocol

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as Answer

from station.board import Board
from station.core.mass import ZERO, Mass
from station.core.messages import CountLot
from station.errors import StationError
from station.phone import guard, orders
from station.phone.from_pan import on_the_pan
from station.phone.shelf import Ask
from station.quantities import mass
from station.texts import t

TEXT_LIMIT = 60


@dataclass(frozen=True, slots=True)
class LotLine:
    """One lot as the page shows it. `left` None: nobody knows. `goes_next`: to be used before others."""

    material: str
    component: str
    number: str
    left: Mass | None
    empty: Mass | None
    opened: date | None
    best_before: date | None
    goes_next: bool
    warnings: tuple[str, ...]


class Stock(Protocol):
    """Read only; called from many threads at once."""

    def lots(self) -> Sequence[LotLine]:
        """All lots on the shelf, those of one material together."""
        ...


def stock_pages(stock: Stock, board: Board, ask: Ask) -> Blueprint:
    """The routes under /stock."""
    bp = Blueprint("stock", __name__, url_prefix="/stock")

    @bp.app_context_processor
    def everywhere() -> dict[str, bool]:
        return {"has_stock_page": True}

    def page(said: str = "", typed: dict[str, str] | None = None, at: str = "") -> str:
        """`at`: the field that is wrong; empty: none, or more than one."""
        return render_template("stock.html", lots=stock.lots(), said=said, typed=typed or {}, at=at)

    @bp.get("")
    def lots() -> str:
        return page()

    @bp.post("/count")
    def count() -> Answer | tuple[str, int] | str:
        typed = {name: request.form.get(name, "")[:TEXT_LIMIT] for name in ("lot", "gross", "empty")}
        at = "gross"
        try:
            if "pan" in request.form:
                return page("", typed | {"gross": on_the_pan(board)})
            at = "lot"
            number = orders.text(typed, "lot", t("which lot"), TEXT_LIMIT)
            at = "gross"
            gross = mass(orders.text(typed, "gross", t("what the container weighs"), TEXT_LIMIT), bare="g")
            known = next((lot.empty for lot in stock.lots() if lot.number == number), None) or ZERO
            at = "empty"
            empty = mass(typed["empty"], bare="g") if typed["empty"].strip() else known
            at = ""
            ask(CountLot(number, gross, empty, guard.device()))
        except StationError as refusal:
            return page(refusal.sentence(), typed, at), 409
        return redirect(url_for("stock.lots"), 303)

    return bp
