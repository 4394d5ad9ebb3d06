"""Events of judging a part: what it weighs, how hard and how large it came out, what is wrong with it, the verdict.

A cast is judged long after it has left the bench, and again when somebody looks closer: each word is an event of its
own, the latest one counts, and none before is lost. Never rename a class or a field that has been released, nor a value
of an enum: the journal keeps them.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from station.core.mass import Mass
from station.texts import N_


class Verdict(Enum):
    """What a part is worth. The value is its name in words."""

    GOOD = N_("good")
    USABLE = N_("usable")
    SCRAP = N_("scrap")


class DefectKind(Enum):
    """What may be wrong with a part, in the words of the trade."""

    SHORT_SHOT = N_("short shot")
    VOID = N_("void")
    BUBBLES = N_("bubbles")
    FLASH = N_("flash")
    SINK = N_("sink")
    SOFT_SPOT = N_("soft spot")
    TACKY = N_("tacky")
    TEAR = N_("tear")
    BAD_BOND = N_("bad bond")
    STREAKS = N_("streaks")
    OFF_COLOUR = N_("off colour")
    OFF_SIZE = N_("off size")
    OTHER = N_("other defect")


class Severity(Enum):
    """How much a defect matters to what the part is for."""

    SLIGHT = N_("slight")
    CLEAR = N_("clear")
    SPOILT = N_("spoils the part")


class HardnessScale(Enum):
    """The scale of the durometer with which a hardness was read. Readings of different scales cannot be converted."""

    SHORE_A = "Shore A"
    SHORE_00 = "Shore 00"
    ASKER_C = "Asker C"


@dataclass(frozen=True, slots=True)
class Defect:
    """One defect: what, how bad, and where on the part in the person's own words."""

    kind: DefectKind
    severity: Severity
    place: str = ""


@dataclass(frozen=True, slots=True)
class PartWeighed:
    """The part weighs `mass`; `trimmed`: flash and sprue were cut off before."""

    number: int
    mass: Mass
    trimmed: bool
    by: str


@dataclass(frozen=True, slots=True)
class PartMassWithdrawn:
    """What the part was said to weigh was not its mass."""

    number: int
    by: str


@dataclass(frozen=True, slots=True)
class HardnessRead:
    """Reading number `reading` of this station: `value` on `scale` at `place`.

    `since_demold_s` is how long the part had been out of its mold, None when that is not known.
    """

    number: int
    reading: int
    scale: HardnessScale
    value: float
    place: str
    since_demold_s: float | None
    by: str


@dataclass(frozen=True, slots=True)
class HardnessWithdrawn:
    """This reading does not count."""

    number: int
    reading: int
    by: str


@dataclass(frozen=True, slots=True)
class ShrinkageMeasured:
    """The same length in the mold and on the part, in mm; the latest pair of a `place` counts."""

    number: int
    mold_mm: float
    part_mm: float
    place: str
    by: str


@dataclass(frozen=True, slots=True)
class ShrinkageWithdrawn:
    """The lengths at this place do not count."""

    number: int
    place: str
    by: str


@dataclass(frozen=True, slots=True)
class Judged:
    """The verdict, with all that is wrong with the part; it takes the place of the one before."""

    number: int
    verdict: Verdict
    defects: tuple[Defect, ...]
    note: str
    by: str


@dataclass(frozen=True, slots=True)
class VerdictWithdrawn:
    """The verdict was not meant for this cast: it waits for one again."""

    number: int
    by: str


@dataclass(frozen=True, slots=True)
class JudgingWaived:
    """Nobody will judge this part any more, and nothing shall remind of it; `reason` says why."""

    number: int
    reason: str
    by: str


JudgingEvent = (
    PartWeighed
    | PartMassWithdrawn
    | HardnessRead
    | HardnessWithdrawn
    | ShrinkageMeasured
    | ShrinkageWithdrawn
    | Judged
    | VerdictWithdrawn
    | JudgingWaived
)
