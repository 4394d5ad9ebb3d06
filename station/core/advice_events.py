"""Events of advice: what a person decided to use for the next plans, and what no longer. A part of `events`.

Never rename a class or a field that has been released, nor a value of an enum: the journal keeps them.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from station.texts import N_


class AdviceKind(Enum):
    """What is advised. The value is its name in words; the unit of its value stands beside it."""

    SHOT = N_("mass in the mold")
    """g, for a mold and a material."""
    MIX = N_("mass mixed")
    """g, for a mold and a material."""
    PACKING_LOW = N_("least packing factor")
    PACKING_HIGH = N_("largest packing factor")
    POUR_BY = N_("longest time from first contact to pour")
    """s; only ever shortens the pot life of the sheet."""
    MIX_TIME = N_("shortest mix time")
    """s; only ever lengthens the mix time of the sheet."""
    CURE = N_("shortest time in the mold")
    """h; only ever lengthens the demold time of the sheet."""

    @property
    def unit(self) -> str:
        """The unit of its value."""
        if self in (AdviceKind.SHOT, AdviceKind.MIX):
            return "g"
        if self is AdviceKind.CURE:
            return "h"
        return "s" if self in (AdviceKind.POUR_BY, AdviceKind.MIX_TIME) else ""

    @property
    def of_mold(self) -> bool:
        """Whether it holds for one mold only, and not for a material in all of them."""
        return self in (AdviceKind.SHOT, AdviceKind.MIX)


@dataclass(frozen=True, slots=True)
class AdviceAdopted:
    """The next plans of `material` (in `mold`; "" where that does not matter) use `value`, until it is dropped.

    `low` and `high` bound it, None where its interval has no end; `from_casts` are the casts it was told by.
    """

    kind: AdviceKind
    mold: str
    material: str
    value: float
    low: float | None
    high: float | None
    from_casts: tuple[int, ...]
    by: str


@dataclass(frozen=True, slots=True)
class AdviceDropped:
    """The next plans no longer use what was adopted."""

    kind: AdviceKind
    mold: str
    material: str
    by: str
