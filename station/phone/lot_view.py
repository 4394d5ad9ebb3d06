"""One lot as its page shows it: its container, its counts, the casts that contain it, the parts to set aside."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from urllib.parse import urlencode

from station.core.mass import ZERO, Mass
from station.lot_records import LotCast, LotRecord
from station.phone.words import day_text
from station.records import Stage, When
from station.texts import t, tn


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


@dataclass(frozen=True, slots=True)
class LotSeen:
    """A lot by its number: `shelf` as its sheets have it (none: it is on none any more), `record` as it was cast.

    `left`: what is in it by its counts and casts, None when nobody knows.
    """

    shelf: tuple[LotLine, ...]
    record: LotRecord
    left: Mass | None

    @property
    def known(self) -> bool:
        """Whether a sheet or the record knows a lot of this number."""
        return bool(self.shelf) or self.record.known


@dataclass(frozen=True, slots=True)
class LotRow:
    """A cast of the lot in words. `aside`: there is a part that contains it."""

    number: int
    begun: str
    mold: str
    material: str
    ingredient: str
    taken: str
    stage: str
    verdict: str
    aside: bool


@dataclass(frozen=True, slots=True)
class LotView:
    """The page of a lot. `older` is the address of the casts before these, empty when there are none."""

    lot: str
    facts: tuple[tuple[str, str], ...]
    warnings: tuple[str, ...]
    counts: tuple[tuple[str, str], ...]
    rows: tuple[LotRow, ...]
    summary: str
    aside: str
    older: str


def lot_view(seen: LotSeen) -> LotView:
    """The lot in words."""
    record = seen.record
    last = record.casts[-1].number if record.casts else 0
    return LotView(
        lot=record.lot,
        facts=_facts(seen),
        warnings=tuple(said for line in seen.shelf for said in line.warnings),
        counts=tuple(
            (_day(count.at), t("{left} left, counted by {by}", left=count.left.text(), by=t(count.by)))
            for count in record.counts
        ),
        rows=tuple(_row(cast) for cast in record.casts),
        summary=_summary(record.casts),
        aside=_aside(record.parts),
        older=f"/stock/lot?{urlencode({'lot': record.lot, 'before': last})}" if record.older else "",
    )


def lot_wire(seen: LotSeen) -> dict[str, object]:
    """The same for programs: what /api/lot answers with."""
    return {**record_wire(seen.record), "left_mg": None if seen.left is None else seen.left.mg}


def record_wire(record: LotRecord) -> dict[str, object]:
    """What the record alone knows of it, for programs."""
    return {
        "lot": record.lot,
        "older": record.older,
        "counts": [
            {"at": count.at.wall.isoformat(), "sure": count.at.sure, "left_mg": count.left.mg, "by": count.by}
            for count in record.counts
        ],
        "casts": [
            {
                "number": cast.number,
                "begun": cast.begun.wall.isoformat(),
                "sure": cast.begun.sure,
                "mold": cast.mold,
                "material": cast.material,
                "ingredient": cast.ingredient,
                "taken_mg": cast.taken.mg,
                "stage": cast.stage.value,
                "verdict": None if cast.verdict is None else cast.verdict.value,
                "set_aside": cast.part,
            }
            for cast in record.casts
        ],
    }


def _facts(seen: LotSeen) -> tuple[tuple[str, str], ...]:
    facts: list[tuple[str, str]] = []
    for line in seen.shelf:
        facts.append((t("What it is"), f"{line.material}, {line.component}"))
        facts.append((t("Opened"), line.opened.isoformat() if line.opened else t("not opened")))
        if line.best_before:
            facts.append((t("Best before"), line.best_before.isoformat()))
    if not seen.shelf:
        facts.append((t("What it is"), t("On no sheet any more; this is what the record has.")))
    left = t("Nobody has weighed it.") if seen.left is None else seen.left.text()
    facts.append((t("What is left"), left))
    return tuple(facts)


def _row(cast: LotCast) -> LotRow:
    return LotRow(
        number=cast.number,
        begun=_day(cast.begun),
        mold=cast.mold,
        material=cast.material,
        ingredient=cast.ingredient,
        taken=cast.taken.text() if cast.contains else t("nothing of it"),
        stage=t(cast.stage.value),
        verdict=_verdict(cast),
        aside=cast.part,
    )


def _verdict(cast: LotCast) -> str:
    """The verdict on its part; empty where there is none to be judged yet."""
    if cast.verdict is not None:
        return t(cast.verdict.value)
    return t("not judged") if cast.stage is Stage.DEMOLDED else ""


def _summary(casts: Sequence[LotCast]) -> str:
    taken = sum((cast.taken for cast in casts), start=ZERO)
    containing = len({cast.number for cast in casts if cast.contains})
    return tn(
        "{n} cast contains it: {taken} in all.", "{n} casts contain it: {taken} in all.", containing, taken=taken.text()
    )


def _aside(parts: Sequence[LotCast]) -> str:
    numbers = sorted({cast.number for cast in parts})
    if not numbers:
        return t("No part contains it.")
    return tn(
        "Set aside the part of cast {casts}.",
        "Set aside the parts of the {n} casts {casts}.",
        len(numbers),
        casts=", ".join(map(str, numbers)),
    )


def _day(at: When) -> str:
    return day_text(at.wall) if at.sure else t("{day} (clock not set)", day=day_text(at.wall))
