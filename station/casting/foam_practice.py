"""What shots of foam are usually packed to, by the sort of foam, and what is said of one that is too small or too big.

The ranges are common practice, no source (from memory): calibrate by your own free-rise cup and first shots.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from station.casting.foam import Shot
from station.texts import N_, number, t


@dataclass(frozen=True, slots=True)
class Usual:
    """Usual packing factors and, where a sort of foam is told that way, overpack in % of the minimum fill."""

    packing: tuple[float, float]
    overpack_percent: tuple[float, float] | None


class FoamSort(Enum):
    """Sorts of molded foam, as they are usually packed."""

    FLEXIBLE = N_("flexible, molded")
    RIGID = N_("rigid, poured in place")
    SKINNED = N_("integral skin")

    @property
    def usual(self) -> Usual:
        """Its usual ranges. Common practice, no source (from memory)."""
        return _USUAL[self]


_USUAL = {
    FoamSort.FLEXIBLE: Usual((1.05, 1.3), (103.0, 115.0)),
    FoamSort.RIGID: Usual((1.05, 1.5), (105.0, 120.0)),
    FoamSort.SKINNED: Usual((1.5, 4.0), None),
}
_BELOW_SHEET = N_(
    "A packing factor of {packing} is below its sheet's range, {least} to {most}: corners may stay empty, for flow and "
    "skin take more than free rise says."
)
_BELOW_USUAL = N_(
    "A packing factor of {packing} is below the usual range of {sort} foam (common practice, no source), {least} to "
    "{most}: corners may stay empty, for flow and skin take more than free rise says."
)
_ABOVE_SHEET = N_(
    "Overpressure: a packing factor of {packing} is above its sheet's range, {least} to {most}. The mold must vent, be "
    "clamped and stand firm; a lid that gives way flies."
)
_ABOVE_USUAL = N_(
    "Overpressure: a packing factor of {packing} is above the usual range of {sort} foam (common practice, no source), "
    "{least} to {most}. The mold must vent, be clamped and stand firm; a lid that gives way flies."
)


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
    told = bool(low or high)

    def of_packing(sentence: str) -> str:
        packing = number(made.packing or 0.0, ".2f")
        return t(sentence, packing=packing, sort=t(sort.value), least=number(least), most=number(most))

    said = _too_little(made, minimum_fill_g)
    if not said and made.packing is not None and made.packing < least - 1e-9:
        said.append(of_packing(_BELOW_SHEET if told else _BELOW_USUAL))
    if made.packing is not None and made.packing > most + 1e-9:
        said.append(of_packing(_ABOVE_SHEET if told else _ABOVE_USUAL))
    elif minimum_fill_g is not None and usual.overpack_percent is not None:
        overpack, top = made.overpack_percent(minimum_fill_g), usual.overpack_percent[1]
        if overpack > top + 1e-9:
            said.append(
                t(
                    "Overpressure: {part_g} g are {overpack} % of the {minimum_fill_g} g that fill this mold, "
                    "more than the usual {top} % (common practice, no source). The mold must vent, be clamped and "
                    "stand firm.",
                    part_g=number(made.part_g, ".1f"),
                    overpack=number(overpack, ".0f"),
                    minimum_fill_g=number(minimum_fill_g, ".1f"),
                    top=number(top),
                )
            )
    return tuple(said)


def _too_little(made: Shot, minimum_fill_g: float | None) -> list[str]:
    said = []
    if made.packing is not None and made.free_rise_cm3 is not None and made.packing < 1 - 1e-9:
        said.append(
            t(
                "Short shot: left alone this mix rises to {free_rise_cm3} cm³, and the cavity is {cavity_cm3} "
                "cm³. At a packing factor below 1 it cannot fill the mold.",
                free_rise_cm3=number(made.free_rise_cm3, ".0f"),
                cavity_cm3=number(made.cavity_cm3, ".0f"),
            )
        )
    if minimum_fill_g is not None and made.part_g < minimum_fill_g - 1e-9:
        said.append(
            t(
                "Short shot: {part_g} g go into the mold, and your own casts say that it takes "
                "{minimum_fill_g} g to fill it.",
                part_g=number(made.part_g, ".1f"),
                minimum_fill_g=number(minimum_fill_g, ".1f"),
            )
        )
    return said
