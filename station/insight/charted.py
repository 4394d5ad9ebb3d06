"""What can be charted of a cast: a figure with its unit, and between which casts it may be compared at all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from station.insight.facts import CastFacts
from station.texts import N_


class Alike(Enum):
    """Which casts can be compared in a figure. The value says what to choose."""

    ALL = ""
    MATERIAL = N_("Choose one material: this figure differs from material to material.")
    MOLD = N_("Choose one mold and one material: this figure differs from mold to mold.")


class Charted(Enum):
    """A figure of a cast; the value is its name in words."""

    RATIO = N_("error of the mix ratio")
    DENSITY = N_("molded density")
    SHOT = N_("mass poured")
    MIX = N_("mix time")
    CONTACT = N_("first contact to pour")
    PART = N_("mass of the part")


@dataclass(frozen=True, slots=True)
class Figure:
    """How a figure is shown: its `unit`, with so many decimal `places`, and `alike`."""

    unit: str
    places: int
    alike: Alike


FIGURES = {
    Charted.RATIO: Figure("%", 2, Alike.ALL),
    Charted.DENSITY: Figure("g/cm³", 4, Alike.MOLD),
    Charted.SHOT: Figure("g", 1, Alike.MOLD),
    Charted.MIX: Figure("s", 0, Alike.MATERIAL),
    Charted.CONTACT: Figure("s", 0, Alike.MATERIAL),
    Charted.PART: Figure("g", 1, Alike.MOLD),
}


def figure_of(cast: CastFacts, charted: Charted) -> float | None:
    """The figure in its unit; None when it is not known. The ratio's error is in per cent."""
    match charted:
        case Charted.RATIO:
            return None if cast.ratio_error is None else cast.ratio_error * 100
        case Charted.DENSITY:
            return cast.density_g_cm3
        case Charted.SHOT:
            return cast.shot_g
        case Charted.MIX:
            return cast.mix_s
        case Charted.CONTACT:
            return cast.contact_to_pour_s
        case Charted.PART:
            return cast.part_g


def comparable(facts: Sequence[CastFacts], charted: Charted) -> bool:
    """Whether these casts can be compared in that figure."""
    alike = FIGURES[charted].alike
    molds, materials = {cast.mold for cast in facts}, {cast.material for cast in facts}
    return (alike is not Alike.MOLD or len(molds) <= 1) and (alike is Alike.ALL or len(materials) <= 1)
