"""Yields: of the casts that were judged, which share was good, by mold, material, lot or temperature."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import Enum
from typing import Final

from station.core.judging_events import Verdict
from station.insight.facts import CastFacts
from station.insight.proportions import Proportion, proportion
from station.texts import N_

BAND_C: Final = 5
"""Width of a band of temperatures."""
FEW: Final = 10
"""Fewer judged casts than this are called few: common practice, no source."""


class By(Enum):
    """By what casts are grouped. The value is its name in words. Never by a person."""

    MOLD = N_("mold")
    MATERIAL = N_("material")
    LOT = N_("lot")
    TEMPERATURE = N_("temperature")


@dataclass(frozen=True, slots=True)
class Yield:
    """One group: `casts` of it were poured, `good.of` of them judged. `fit`: good or usable."""

    name: str
    casts: int
    good: Proportion
    fit: Proportion

    @property
    def few(self) -> bool:
        """Whether too few were judged to say much."""
        return self.good.of < FEW


def yields(facts: Iterable[CastFacts], by: By) -> tuple[Yield, ...]:
    """The groups of which at least one cast was judged, in the order of their names. A cast of two lots is in both."""
    groups: dict[str, list[CastFacts]] = {}
    for cast in facts:
        for name in dict.fromkeys(_names(cast, by)):
            groups.setdefault(name, []).append(cast)
    found = [in_all(groups[name], name) for name in sorted(groups, key=_order)]
    return tuple(one for one in found if one is not None)


def in_all(facts: Iterable[CastFacts], name: str = "") -> Yield | None:
    """The yield of these casts together; None when none of them was judged."""
    casts = list(facts)
    judged = [cast.verdict for cast in casts if cast.verdict is not None]
    if not judged:
        return None
    good = judged.count(Verdict.GOOD)
    fit = good + judged.count(Verdict.USABLE)
    return Yield(name, len(casts), proportion(good, len(judged)), proportion(fit, len(judged)))


def _names(cast: CastFacts, by: By) -> Iterator[str]:
    match by:
        case By.MOLD:
            yield cast.mold_title or cast.mold
        case By.MATERIAL:
            yield cast.material_title or cast.material
        case By.LOT:
            yield from (f"{component}: {lot}" for component, lot in cast.lots if lot)
        case By.TEMPERATURE if cast.temperature_c is not None:
            low = math.floor(cast.temperature_c / BAND_C) * BAND_C
            yield f"{low}…{low + BAND_C} °C"


def _order(name: str) -> tuple[float, str]:
    """Bands of temperature by their lower end, all else by letters."""
    low = name.partition("…")[0]
    return (float(low), "") if low.removeprefix("-").isdigit() else (0.0, name.casefold())
