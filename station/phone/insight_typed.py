"""Which casts and which figure an address of the insight asks for, and what is wrong with it by field."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Protocol

from station.casting.written import MayBeThousands, written
from station.errors import Refused
from station.insight.capability import Tolerance
from station.insight.charted import Charted
from station.insight.facts import CastFacts
from station.phone.log_view import day_typed, midnight
from station.records import Known
from station.texts import t

FIGURES = {charted.name.lower(): charted for charted in Charted}
LASTS = (30, 60, 120, 250, 1000)
"""How many of the newest casts may be chosen."""
USUAL = 60
LONGEST = 100
"""More letters than this are cut off."""


class FactBook(Protocol):
    """The record, read only; called from many threads at once. Each raises Fault when it cannot be read."""

    def facts(
        self,
        *,
        mold: str = "",
        material: str = "",
        last: int = USUAL,
        since: datetime | None = None,
        until: datetime | None = None,
    ) -> Sequence[CastFacts]:
        """Of the poured casts asked for the newest `last`, the oldest of them first."""
        ...

    def molds(self) -> Sequence[Known]:
        """Every mold that was ever cast in."""
        ...

    def materials(self) -> Sequence[Known]:
        """Every material that was ever cast."""
        ...


@dataclass(frozen=True, slots=True)
class Typed:
    """What stands in the address, as it was typed. `mold` and `material` are keys, "" for all."""

    mold: str
    material: str
    figure: str
    last: str
    since: str
    until: str
    low: str
    high: str


@dataclass(frozen=True, slots=True)
class Wanted:
    """The same, understood; days as UTC moments, `until` not included."""

    mold: str
    material: str
    charted: Charted
    last: int
    since: datetime | None
    until: datetime | None
    limits: Tolerance


def typed_of(args: Mapping[str, str], newest: CastFacts | None) -> Typed:
    """What an address says; where it names no mold and no material, those of the `newest` cast."""
    put = {name: " ".join(args.get(name, "").split())[:LONGEST] for name in Typed.__dataclass_fields__}
    if newest is not None and "mold" not in args and "material" not in args:
        put |= {"mold": newest.mold, "material": newest.material}
    return Typed(**put | {"figure": put["figure"] or "ratio", "last": put["last"] or str(USUAL)})


def wanted_of(typed: Typed) -> tuple[Wanted, dict[str, str]]:
    """What that asks for, and what is wrong with it by field; what is wrong is left out."""
    slips: dict[str, str] = {}
    if typed.figure not in FIGURES:
        slips["figure"] = t("There is no such figure. Choose one of the list.")
    last = int(typed.last) if typed.last.isascii() and typed.last.isdigit() and len(typed.last) < 6 else 0
    if last not in LASTS:
        slips["last"] = t("Choose how many casts from the list.")
        last = USUAL
    since, until = day_typed(typed.since, "since", slips), day_typed(typed.until, "until", slips)
    if since is not None and until is not None and until < since:
        slips["until"] = t("The last day lies before the first. Exchange the two.")
        until = None
    low, high = _figure(typed.low, "low", slips), _figure(typed.high, "high", slips)
    limits = Tolerance()
    try:
        limits = Tolerance(low, high)
    except Refused as why:
        slips["high"] = why.sentence()
    wanted = Wanted(
        mold=typed.mold,
        material=typed.material,
        charted=FIGURES.get(typed.figure, Charted.RATIO),
        last=last,
        since=None if since is None else midnight(since),
        until=None if until is None else midnight(until + timedelta(days=1)),
        limits=limits,
    )
    return wanted, slips


def _figure(typed: str, field: str, slips: dict[str, str]) -> float | None:
    """A number without its unit, which the page says; empty: no limit."""
    if not typed:
        return None
    try:
        found = written(typed)
    except MayBeThousands as either:
        slips[field] = t(
            "{typed} may be {whole} or {decimal}. Write one of the two.",
            typed=repr(typed[:20]),
            whole=either.whole,
            decimal=either.decimal,
        )
        return None
    if found is None or found.rest:
        slips[field] = t("{typed} is no number. Write it without its unit, such as 1.5.", typed=repr(typed[:20]))
        return None
    return float(found.number)
