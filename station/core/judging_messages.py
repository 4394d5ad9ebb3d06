"""Messages about judging a part: what a person says of it, and what they take back."""

from __future__ import annotations

from dataclasses import dataclass

from station.core.judging_events import Defect, HardnessScale, Verdict
from station.core.mass import Mass


@dataclass(frozen=True, slots=True)
class WeighPart:
    """The part weighs `mass`, says the person; `trimmed`: flash and sprue were cut off before."""

    number: int
    mass: Mass
    trimmed: bool
    by: str


@dataclass(frozen=True, slots=True)
class TakePart:
    """What lies at rest on the pan is this cast's part."""

    number: int
    trimmed: bool
    by: str


@dataclass(frozen=True, slots=True)
class WithdrawPartMass:
    """That was not the mass of this part."""

    number: int
    by: str


@dataclass(frozen=True, slots=True)
class ReadHardness:
    """A durometer shows `value` at `place`. `since_demold_s`: when it was read, None for just now."""

    number: int
    scale: HardnessScale
    value: float
    place: str
    since_demold_s: float | None
    by: str


@dataclass(frozen=True, slots=True)
class WithdrawHardness:
    """The reading of this number does not count."""

    number: int
    reading: int
    by: str


@dataclass(frozen=True, slots=True)
class MeasureShrinkage:
    """A length in the mold and on the part, both in mm."""

    number: int
    mold_mm: float
    part_mm: float
    place: str
    by: str


@dataclass(frozen=True, slots=True)
class WithdrawShrinkage:
    """The lengths at this place do not count."""

    number: int
    place: str
    by: str


@dataclass(frozen=True, slots=True)
class Judge:
    """The verdict on a part, and all that is wrong with it."""

    number: int
    verdict: Verdict
    defects: tuple[Defect, ...]
    note: str
    by: str


@dataclass(frozen=True, slots=True)
class WithdrawVerdict:
    """The verdict was meant for another cast."""

    number: int
    by: str


@dataclass(frozen=True, slots=True)
class WaiveJudging:
    """Nobody will judge this part; `reason` is for the record."""

    number: int
    reason: str
    by: str


JudgingCommand = (
    WeighPart
    | WithdrawPartMass
    | ReadHardness
    | WithdrawHardness
    | MeasureShrinkage
    | WithdrawShrinkage
    | Judge
    | WithdrawVerdict
    | WaiveJudging
)
