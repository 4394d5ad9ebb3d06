"""What a trial looks at: a measured value of the part, or whether it came out good or without a defect."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from enum import Enum
from statistics import fmean

from station.core.judging_events import DefectKind
from station.insight.asked import Question
from station.insight.facts import CastFacts
from station.texts import N_


class Measured(Enum):
    """A value of the part. The value is its name in words."""

    DENSITY = N_("density of the part")
    PART = N_("mass of the part")
    HARDNESS = N_("hardness")
    SHRINKAGE = N_("shrinkage")


UNITS = {Measured.DENSITY: "kg/m³", Measured.PART: "g", Measured.HARDNESS: "", Measured.SHRINKAGE: "%"}
DECIMALS = {Measured.DENSITY: ".1f", Measured.PART: ".2f", Measured.HARDNESS: ".1f", Measured.SHRINKAGE: ".2f"}

Response = Measured | Question


def measured(casts: Sequence[CastFacts], what: Measured) -> dict[int, float]:
    """The value of each cast that has one, by its number; of hardness the mean in the scale read most often."""
    match what:
        case Measured.DENSITY:
            found = {one.number: 1000 * one.density_g_cm3 for one in casts if one.density_g_cm3 is not None}
        case Measured.PART:
            found = {one.number: one.part_g for one in casts if one.part_g is not None}
        case Measured.SHRINKAGE:
            found = {one.number: 100 * one.shrinkage for one in casts if one.shrinkage is not None}
        case Measured.HARDNESS:
            scales = Counter(scale for one in casts for scale in {reading[0] for reading in one.hardness})
            most = scales.most_common(1)[0][0] if scales else None
            read = {one.number: [value for scale, value, _ in one.hardness if scale is most] for one in casts}
            found = {number: fmean(values) for number, values in read.items() if values}
    return found


def failed(casts: Sequence[CastFacts], question: Question) -> dict[int, bool]:
    """Whether each judged cast is one of the bad ones, by its number."""
    return {cast.number: bad for cast, bad in question.answering(casts)}


def key_of(response: Response) -> str:
    """A short name for addresses and the record."""
    if isinstance(response, Measured):
        return response.name
    return "NOT_GOOD" if response.defect is None else response.defect.name


def response_of(key: str) -> Response | None:
    """The response of this short name."""
    if key == "NOT_GOOD":
        return Question()
    if key in Measured.__members__:
        return Measured[key]
    return Question(DefectKind[key]) if key in DefectKind.__members__ else None
