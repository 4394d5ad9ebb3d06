"""The pages of the stock: what is left of each lot, which goes next, weighing a container, and all of one lot."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from flask import Blueprint, Response, jsonify, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as Answer

from station.board import Board
from station.core.mass import ZERO
from station.core.messages import CountLot
from station.errors import StationError
from station.phone import guard, orders
from station.phone.from_pan import on_the_pan
from station.phone.lot_view import LotLine, LotSeen, lot_view, lot_wire
from station.phone.shelf import Ask
from station.quantities import mass
from station.texts import t

TEXT_LIMIT = 60


class Stock(Protocol):
    """Read only; called from many threads at once."""

    def lots(self) -> Sequence[LotLine]:
        """All lots on the shelf, those of one material together."""
        ...

    def lot(self, number: str, *, before: int | None = None) -> LotSeen:
        """One lot; of its casts the newest of those numbered below `before`. Raises Fault when it cannot be read."""
        ...


def stock_pages(stock: Stock, board: Board, ask: Ask) -> Blueprint:
    """The routes under /stock, and /api/lot."""
    bp = Blueprint("stock", __name__)

    @bp.app_context_processor
    def everywhere() -> dict[str, bool]:
        return {"has_stock_page": True}

    def page(said: str = "", typed: dict[str, str] | None = None, at: str = "") -> str:
        """`at`: the field that is wrong; empty: none, or more than one."""
        return render_template("stock.html", lots=stock.lots(), said=said, typed=typed or {}, at=at)

    @bp.get("/stock")
    def lots() -> str:
        return page()

    @bp.get("/stock/lot")
    def lot() -> str | tuple[str, int]:
        number, known = _asked(), stock.lots()
        if not number:
            return render_template("lot.html", seen=None, number="", known=known)
        seen = stock.lot(number, before=_before())
        if not seen.known:
            return render_template("lot.html", seen=None, number=number, known=known), 404
        return render_template("lot.html", seen=lot_view(seen), number=number, known=known)

    @bp.get("/api/lot")
    def values() -> Response | tuple[Response, int]:
        number = _asked()
        if not number:
            raise orders.NotUnderstood(t("Please say which lot: /api/lot?lot= and its number."))
        seen = stock.lot(number, before=_before())
        if not seen.known:
            return jsonify({"refused": t("Nothing is known of a lot of this number.")}), 404
        return jsonify(lot_wire(seen))

    @bp.post("/stock/count")
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


def _asked() -> str:
    return request.args.get("lot", "").strip()[:TEXT_LIMIT]


def _before() -> int | None:
    typed = request.args.get("before", "")
    return int(typed) if typed.isascii() and typed.isdigit() and 0 < len(typed) < 10 else None
