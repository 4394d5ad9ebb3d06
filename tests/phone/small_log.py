"""A log of forty casts, made by hand: number 3 is whole, with a trace for B and a torn one for A."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

from station.core.clocks import ClockKind
from station.core.mass import Mass
from station.core.trace import Points
from station.errors import LedgerFault
from station.records import (
    AlarmRecord,
    Asked,
    BatchRecord,
    CastLine,
    CastPage,
    CourseRecord,
    IngredientRecord,
    Known,
    RatioRecord,
    RemarkRecord,
    Stage,
    WeighingRecord,
    When,
)

G = Mass.grams
WALL = datetime(2026, 3, 2, 9, 14, tzinfo=UTC)
FOAM, PAD = "Wrenfield foam (invented)", "kayak seat pad"


def at(seconds: float) -> When:
    return When(WALL + timedelta(seconds=seconds), True)


def line(number: int) -> CastLine:
    stage = Stage.LOST if number % 7 == 0 else Stage.DEMOLDED
    begun = When(WALL - timedelta(days=40 - number), True)
    return CastLine(number, begun, FOAM, PAD, G("228.0"), "one cup", stage, 1, int(number == 39))


LINES = tuple(line(number) for number in range(40, 0, -1))
PARTS = (
    IngredientRecord(
        "A", "mixing cup", True, "0417", G("120"), G("120.3"), G("120"), G("117.6"), G("122.4"), 0.25, G("120.3"), ""
    ),
    IngredientRecord(
        "B", "mixing cup", True, "", G("108"), G("105.2"), G("108.3"), G("106.1"), G("110.4"), -2.9, G("105.2"), ""
    ),
)
WEIGHINGS = (
    WeighingRecord(1, "A", "mixing cup", G("120"), G("117.6"), G("122.4"), G("120.3"), at(60), False, G("144.6")),
    WeighingRecord(2, "B", "mixing cup", G("108.3"), G("106.1"), G("110.4"), G("105.2"), at(95), False, G("249.8")),
)
RECORD = BatchRecord(
    number=3,
    material=FOAM,
    mold=PAD,
    way="one cup",
    way_reason="the pot life leaves time to weigh both",
    begun_by="page (test phone)",
    stage=Stage.DEMOLDED,
    ending="",
    planned_total=G("228"),
    left_in_cup=G("3.1"),
    actual_total=G("225.5"),
    readability=G("0.1"),
    sheet_ratio="A 100 : B 90 by weight",
    ingredients=PARTS,
    weighings=WEIGHINGS,
    ratio=(RatioRecord("A", 100, 100, 0), RatioRecord("B", 90, 87.45, -2.83)),
    course=CourseRecord(
        begun=at(0),
        contact=at(70),
        mix_started=at(96),
        mixed=at(140),
        poured=at(171),
        closed=at(190),
        demolded=at(2700),
        mix_s=44,
        contact_to_poured_s=101,
        contact_to_closed_s=120,
        poured_to_demolded_s=2529,
    ),
    pot_life_s=240,
    temperatures_c=(21.5, 22.0),
    alarms=(AlarmRecord(ClockKind.DEMOLD, at(2571), 0.0, "demold now", at(2600), "pedal", 29.0, ""),),
    missed=(),
    overshoots=(),
    interruptions=(RemarkRecord(at(62), "paused", "pedal"),),
    outages=(),
    remarks=(RemarkRecord(at(2710), "The heel is <b>dry</b>.", "page (test phone)"),),
    plan_notes=("228.0 g is usual for the mold.",),
    presses=(RemarkRecord(at(0), "begun", "page (test phone)"), RemarkRecord(at(171), "poured", "pedal")),
)
TRACE = tuple((second * 0.5, 144_600 + min(105_200, second * 3_000)) for second in range(60))
"""What the scale showed of B: 6 g a second on top of the 144.6 g that stood there."""


class SmallLog:
    """A `phone.log_view.LogBook` in memory. `asked` are the questions that it was asked."""

    def __init__(self) -> None:
        self.asked: list[Asked] = []

    def page(self, asked: Asked, *, before: int | None = None, after: int | None = None, limit: int = 30) -> CastPage:
        self.asked.append(asked)
        found = [one for one in LINES if _fits(one, asked)]
        if after is not None:
            some = [one for one in found if one.number > after][-limit:]
        else:
            some = [one for one in found if before is None or one.number < before][:limit]
        if not some:
            return CastPage((), newer=False, older=False)
        return CastPage(tuple(some), some[0] is not found[0], some[-1] is not found[-1])

    def number(self, wanted: int) -> bool:
        return any(one.number == wanted for one in LINES)

    def molds(self) -> Sequence[Known]:
        return (Known("pad", PAD),)

    def materials(self) -> Sequence[Known]:
        return (Known("foam", FOAM),)

    def record(self, number: int) -> BatchRecord | None:
        return replace(RECORD, number=number) if self.number(number) else None

    def trace(self, number: int, step: int) -> Points | None:
        if step == 1:
            raise LedgerFault("A weighing trace in the record is damaged; the weighing's result is not.")
        return TRACE

    def text(self, record: BatchRecord) -> str:
        return f"Cast {record.number}: A 120.0 g, B 108.2 g <checked>"

    def plain(self, record: BatchRecord) -> dict[str, Any]:
        return {"number": record.number, "mold": record.mold}


def _fits(one: CastLine, asked: Asked) -> bool:
    text = f"{one.number} {one.material} {one.mold}".casefold()
    return (
        all(word in text for word in asked.search.casefold().split())
        and asked.stage in (None, one.stage)
        and asked.mold in ("", "pad")
        and asked.material in ("", "foam")
        and (asked.since is None or one.begun.wall >= asked.since)
        and (asked.until is None or one.begun.wall < asked.until)
    )
