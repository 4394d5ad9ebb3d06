"""The pages of the molds: what each takes, how its casts came out, its care, entering and changing one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Protocol

from flask import Blueprint, Response, abort, jsonify, render_template

from station.core.material import Mold
from station.errors import StationError
from station.insight import wear_said
from station.phone.mold_view import NEWEST, MoldBook, MoldCasts, mold_view, molds_wire
from station.phone.sheet_forms import Kind, entry_routes
from station.sheet_form.mold_fields import MOLD
from station.texts import N_


class Molds(Protocol):
    """What the pages need of the sheets; called from many threads at once."""

    def molds(self) -> Sequence[Mold]:
        """Every mold, in the order in which to offer them."""
        ...

    def changeable_mold(self, key: str, /) -> bool:
        """Whether the mold was entered on this page."""
        ...

    def typed_mold(self, key: str, /) -> Mapping[str, str]:
        """What to fill into the form to get that mold. Raises Refused."""
        ...

    def keep_mold(self, typed: Mapping[str, str], /, instead_of: str = "") -> str:
        """Write a mold down; gives its key. Raises Slips, and Fault for the disk."""
        ...


def mold_pages(molds: Molds, book: MoldBook) -> Blueprint:
    """The routes under /molds, and /api/molds."""
    bp = Blueprint("molds", __name__)

    @bp.app_context_processor
    def everywhere() -> dict[str, bool]:
        return {"has_molds_page": True}

    def shown(page: str, some: Sequence[Mold], **more: object) -> str:
        said = ""
        pasts: Mapping[str, MoldCasts] = {}
        try:
            pasts = book.casts()
        except StationError as why:
            said = why.sentence()
        told = [
            mold_view(mold, book.care(mold.key), pasts.get(mold.key), molds.changeable_mold(mold.key)) for mold in some
        ]
        return render_template(page, told=told, said=said, **more)

    @bp.get("/molds")
    def everything() -> str:
        return shown("molds.html", molds.molds())

    @bp.get("/molds/<key>")
    def one(key: str) -> str:
        some = [mold for mold in molds.molds() if mold.key == key]
        if not some:
            abort(404)
        try:
            found = book.wear(key)
        except StationError:  # the page says it already, for the casts cannot be read either
            return shown("mold.html", some, wear=None)
        return shown("mold.html", some, wear=(wear_said.summary(found), wear_said.said(found)), most_shots=NEWEST)

    @bp.get("/api/molds")
    def values() -> Response:
        return jsonify({"molds": molds_wire(molds.molds(), book)})

    entry_routes(
        bp, Kind("/molds", N_("Enter a mold"), N_("Change a mold"), MOLD, molds.typed_mold, molds.keep_mold), "/molds"
    )
    return bp
