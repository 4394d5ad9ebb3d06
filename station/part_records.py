"""What the record tells of a part: its mass and density, its readings and lengths, the verdict, and every word said."""

from __future__ import annotations

from dataclasses import dataclass

from station.casting.part import Lengths
from station.core.judging_events import Defect, HardnessScale, Verdict
from station.core.mass import Mass
from station.remarks import RemarkRecord, When


@dataclass(frozen=True, slots=True)
class HardnessRecord:
    """One reading that counts. `since_demold_s` is None when it is not known how long the part had been out."""

    reading: int
    scale: HardnessScale
    value: float
    place: str
    since_demold_s: float | None
    at: When


@dataclass(frozen=True, slots=True)
class HardnessOf:
    """A series of readings on one scale: the median of `count` of them, the least and the most.

    A part goes on curing, so only readings of about the same time belong together. `since_demold_s` is when the first
    was taken, None when that is not known.
    """

    scale: HardnessScale
    since_demold_s: float | None
    median: float
    low: float
    high: float
    count: int


@dataclass(frozen=True, slots=True)
class LengthsRecord:
    """A length in the mold and on the part, and the shrinkage in % of the mold."""

    place: str
    lengths: Lengths
    shrinkage_percent: float


@dataclass(frozen=True, slots=True)
class PartRecord:
    """A part out of its mold, as the latest words have it; `told` holds every word, also those that were taken back.

    `density` (g/cm³) needs the cavity's volume in cm³, `packing` the free-rise density of its sheet. `waived` says why
    nobody will judge it; `waits` that a verdict is still to come.
    """

    mass: Mass | None
    trimmed: bool
    cavity_cm3: float | None
    free_rise: float | None
    density: float | None
    packing: float | None
    readings: tuple[HardnessRecord, ...]
    hardness: tuple[HardnessOf, ...]
    sheet_hardness: str
    lengths: tuple[LengthsRecord, ...]
    verdict: Verdict | None
    defects: tuple[Defect, ...]
    note: str
    waived: str
    waits: bool
    told: tuple[RemarkRecord, ...]
