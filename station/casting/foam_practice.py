"""What shots of foam are usually packed to, by the sort of foam, and what is said of one that is too small or too big.

The ranges are common practice, no source (from memory): calibrate by your own free-rise cup and first shots.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from station.casting.foam import Shot


@dataclass(frozen=True, slots=True)
class Usual:
    """Usual packing factors and, where a sort of foam is told that way, overpack in % of the minimum fill."""

    packing: tuple[float, float]
    overpack_percent: tuple[float, float] | None


class FoamSort(Enum):
    """Sorts of molded foam, as they are usually packed."""

    FLEXIBLE = "flexible, molded"
    RIGID = "rigid, poured in place"
    SKINNED = "integral skin"

    @property
    def usual(self) -> Usual:
        """Its usual ranges. Common practice, no source (from memory)."""
        return _USUAL[self]


_USUAL = {
    FoamSort.FLEXIBLE: Usual((1.05, 1.3), (103.0, 115.0)),
    FoamSort.RIGID: Usual((1.05, 1.5), (105.0, 120.0)),
    FoamSort.SKINNED: Usual((1.5, 4.0), None),
}
PRACTICE = "common practice, no source"


def warnings_of(
    made: Shot,
    sort: FoamSort,
    *,
    low: float | None = None,
    high: float | None = None,
    minimum_fill_g: float | None = None,
) -> tuple[str, ...]:
    """What is wrong with a shot, as sentences: too little to fill, or more than the mold should be asked to hold.

    `low` and `high` are the sheet's own packing factors; `minimum_fill_g` is known from the person's own casts.
    """
    usual = sort.usual
    least, most = low or usual.packing[0], high or usual.packing[1]
    of_whom = "its sheet's range" if low or high else f"the usual range of {sort.value} foam ({PRACTICE})"
    said = _too_little(made, minimum_fill_g)
    if not said and made.packing is not None and made.packing < least - 1e-9:
        said.append(
            f"A packing factor of {made.packing:.2f} is below {of_whom}, {least:g} to {most:g}: corners may stay "
            "empty, for flow and skin take more than free rise says."
        )
    if made.packing is not None and made.packing > most + 1e-9:
        said.append(
            f"Overpressure: a packing factor of {made.packing:.2f} is above {of_whom}, {least:g} to {most:g}. "
            "The mold must vent, be clamped and stand firm; a lid that gives way flies."
        )
    elif minimum_fill_g is not None and usual.overpack_percent is not None:
        overpack, top = made.overpack_percent(minimum_fill_g), usual.overpack_percent[1]
        if overpack > top + 1e-9:
            said.append(
                f"Overpressure: {made.part_g:.1f} g are {overpack:.0f} % of the {minimum_fill_g:.1f} g that fill this "
                f"mold, more than the usual {top:g} % ({PRACTICE}). The mold must vent, be clamped and stand firm."
            )
    return tuple(said)


def _too_little(made: Shot, minimum_fill_g: float | None) -> list[str]:
    said = []
    if made.packing is not None and made.free_rise_cm3 is not None and made.packing < 1 - 1e-9:
        said.append(
            f"Short shot: left alone this mix rises to {made.free_rise_cm3:.0f} cm³, and the cavity is "
            f"{made.cavity_cm3:.0f} cm³. At a packing factor below 1 it cannot fill the mold."
        )
    if minimum_fill_g is not None and made.part_g < minimum_fill_g - 1e-9:
        said.append(
            f"Short shot: {made.part_g:.1f} g go into the mold, and your own casts say that it takes "
            f"{minimum_fill_g:.1f} g to fill it."
        )
    return said
