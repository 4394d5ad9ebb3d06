"""The page of the molds: what each takes, how its casts came out, entering and changing one."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol

from flask import Blueprint, render_template

from station.core.material import Mold
from station.core.mold_words import mold_words
from station.errors import StationError
from station.phone.sheet_forms import Kind, entry_routes
from station.phone.words import day_text
from station.sheet_form.mold_fields import MOLD
from station.texts import N_, t


class Molds(Protocol):
    """What the page needs of the sheets; called from many threads at once."""

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


@dataclass(frozen=True, slots=True)
class MoldCasts:
    """`casts` were begun in a mold, `out` came out of it, `failed` were lost or given up.

    `last` is when the newest, `last_number`, was begun (UTC; `sure` of that).
    """

    casts: int
    out: int
    failed: int
    last_number: int
    last: datetime
    sure: bool


Past = Callable[[], Mapping[str, MoldCasts]]
"""What became of the casts in each mold, by its key. Raises Fault when the record cannot be read."""


def mold_pages(molds: Molds, past: Past) -> Blueprint:
    """The routes under /molds."""
    bp = Blueprint("molds", __name__, url_prefix="/molds")

    @bp.app_context_processor
    def everywhere() -> dict[str, bool]:
        return {"has_molds_page": True}

    @bp.get("")
    def everything() -> str:
        said = ""
        pasts: Mapping[str, MoldCasts] = {}
        try:
            pasts = past()
        except StationError as why:
            said = why.sentence()
        told = [
            (mold, mold_words(mold), _past_words(pasts.get(mold.key)), molds.changeable_mold(mold.key))
            for mold in molds.molds()
        ]
        return render_template("molds.html", told=told, said=said)

    entry_routes(bp, Kind("/molds", N_("Enter a mold"), N_("Change a mold"), MOLD, molds.typed_mold, molds.keep_mold))

    return bp


def _past_words(past: MoldCasts | None) -> tuple[tuple[str, str], ...]:
    """How the casts in a mold came out, as labels and values."""
    if past is None:
        return ((t("Casts made"), t("none yet")),)
    ended = past.out + past.failed
    share = (
        t("{out} of {ended}, {out2} %", out=past.out, ended=ended, out2=f"{100 * past.out / ended:.0f}")
        if ended
        else t("none has ended yet")
    )
    day = day_text(past.last) if past.sure else t("{day} (clock not set)", day=day_text(past.last))
    return (
        (t("Casts made"), str(past.casts)),
        (t("Came out of the mold"), share),
        (t("Last cast"), t("{last_number}, begun {day}", last_number=past.last_number, day=day)),
    )
