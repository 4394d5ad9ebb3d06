"""What the record answers with: frozen records of casts, for lists, pages and print. No row of a table among them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import Enum

from station.core.clocks import ClockKind
from station.core.judging_events import DefectKind, Verdict
from station.core.mass import Mass
from station.part_records import PartRecord
from station.remarks import RemarkRecord, When
from station.texts import N_

__all__ = [
    "AlarmRecord",
    "Asked",
    "BatchRecord",
    "CastLine",
    "CastPage",
    "CourseRecord",
    "IngredientRecord",
    "Known",
    "OutageRecord",
    "PartRecord",
    "PhotoRecord",
    "RatioRecord",
    "RemarkRecord",
    "Stage",
    "WeighingRecord",
    "When",
]


class Stage(Enum):
    """How far a cast has come, or how it ended. The value is its name in words."""

    AT_BENCH = N_("at the bench")
    IN_MOLD = N_("in the mold")
    DEMOLDED = N_("demolded")
    LOST = N_("batch lost")
    GIVEN_UP = N_("given up")

    @property
    def open(self) -> bool:
        """Whether somebody still works on it or waits for it."""
        return self in (Stage.AT_BENCH, Stage.IN_MOLD)


@dataclass(frozen=True, slots=True)
class CastLine:
    """One cast in a list. `missed` counts its alarms that nobody answered in time."""

    number: int
    begun: When
    material: str
    mold: str
    total: Mass
    way: str
    stage: Stage
    alarms: int
    missed: int
    verdict: Verdict | None = None
    unjudged: bool = False


@dataclass(frozen=True, slots=True)
class Asked:
    """Which casts are looked for. Empty or None: all.

    `search`: each of its words is part of a number, mold, material, lot, name or note. `mold` and `material` are keys,
    `since` and `until` (UTC) bound when it was begun, the latter not included. `unjudged`: its part is out
    and waits for a verdict.
    """

    search: str = ""
    stage: Stage | None = None
    mold: str = ""
    material: str = ""
    since: datetime | None = None
    until: datetime | None = None
    verdict: Verdict | None = None
    defect: DefectKind | None = None
    unjudged: bool = False


@dataclass(frozen=True, slots=True)
class CastPage:
    """Some of the casts asked for, newest first, and whether there are newer and older ones."""

    lines: tuple[CastLine, ...]
    newer: bool
    older: bool


@dataclass(frozen=True, slots=True)
class Known:
    """A mold or a material that was cast at least once."""

    key: str
    title: str


@dataclass(frozen=True, slots=True)
class WeighingRecord:
    """One accepted weighing, with `gross` on the pan at its end.

    `reopened`: more arrived afterwards, and a later weighing of this step counts.
    """

    step: int
    ingredient: str
    cup: str
    target: Mass
    low: Mass
    high: Mass
    net: Mass
    at: When
    reopened: bool
    gross: Mass


@dataclass(frozen=True, slots=True)
class IngredientRecord:
    """One ingredient of the batch, all its weighings together.

    `target`, `low`, `high` are what the last weighing aimed at, earlier ones of this ingredient included;
    `error_percent` is (actual - target) / target x 100. `in_mix` is what reached the mix and `in_mix_by`
    how that is known. Values are None as long as nothing of it was accepted.
    """

    ingredient: str
    cup: str
    component: bool
    lot: str
    planned: Mass
    actual: Mass | None
    target: Mass | None
    low: Mass | None
    high: Mass | None
    error_percent: float | None
    in_mix: Mass | None
    in_mix_by: str


@dataclass(frozen=True, slots=True)
class RatioRecord:
    """One component's parts by weight per 100 of the first: `sheet` as it should be, `actual` as it was mixed."""

    component: str
    sheet: float
    actual: float | None
    error_percent: float | None


@dataclass(frozen=True, slots=True)
class CourseRecord:
    """When the cast passed its stations; None where it has not come to it. Spans in seconds, None when unknown."""

    begun: When
    contact: When | None
    mix_started: When | None
    mixed: When | None
    poured: When | None
    closed: When | None
    demolded: When | None
    mix_s: float | None
    contact_to_poured_s: float | None
    contact_to_closed_s: float | None
    poured_to_demolded_s: float | None


@dataclass(frozen=True, slots=True)
class AlarmRecord:
    """One alarm. `late_s` after it was due it sounded, `after_s` later it was answered. `missed` says why it counts
    as missed, empty when it does not. `by` is empty when it was answered by going on rather than acknowledged."""

    clock: ClockKind
    raised: When
    late_s: float | None
    why: str
    silenced: When | None
    by: str
    after_s: float | None
    missed: str


@dataclass(frozen=True, slots=True)
class OutageRecord:
    """The station was off: last seen, back, and the seconds between, None when unknown."""

    last_seen: When | None
    back: When
    seconds: float | None


@dataclass(frozen=True, slots=True)
class PhotoRecord:
    """A photo of a cast. `digest` and `small` are the SHA-256 of its file and of the small one's, sides in dots.

    `removed` tells by whom it was taken from the page; None while it is shown.
    """

    name: str
    digest: str
    small: str
    wide: int
    high: int
    caption: str
    added: RemarkRecord
    removed: RemarkRecord | None = None


@dataclass(frozen=True, slots=True)
class BatchRecord:
    """Everything about one cast. `presses`: who went on from which step, answered which alarm, or gave it up.

    `part` is None as long as it is in its mold.
    """

    number: int
    material: str
    mold: str
    way: str
    way_reason: str
    begun_by: str
    stage: Stage
    ending: str
    planned_total: Mass
    left_in_cup: Mass | None
    actual_total: Mass
    readability: Mass
    sheet_ratio: str
    ingredients: tuple[IngredientRecord, ...]
    weighings: tuple[WeighingRecord, ...]
    ratio: tuple[RatioRecord, ...]
    course: CourseRecord
    pot_life_s: float
    temperatures_c: tuple[float, ...]
    alarms: tuple[AlarmRecord, ...]
    missed: tuple[str, ...]
    overshoots: tuple[RemarkRecord, ...]
    interruptions: tuple[RemarkRecord, ...]
    outages: tuple[OutageRecord, ...]
    remarks: tuple[RemarkRecord, ...]
    plan_notes: tuple[str, ...]
    presses: tuple[RemarkRecord, ...]
    photos: tuple[PhotoRecord, ...] = ()
    part: PartRecord | None = None
    humidities_percent: tuple[float, ...] = ()
