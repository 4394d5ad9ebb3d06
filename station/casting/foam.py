"""Foam: from a cavity to the mass to mix, and what that mass will do in it.

Mass = volume × density. A foam grows by its expansion ratio, so its liquid takes the cavity volume DIVIDED by
that ratio; multiplying instead is wrong by the ratio squared. Terms as in the molding of foams: packing factor =
molded ÷ free-rise density; overpack % = 100 × injected ÷ minimum fill mass. They are not interchangeable: a closed
mold needs more than volume × free-rise density even to fill, because flow and skin raise the minimum.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean, stdev

from station.errors import Refused

USUAL_PACKING = (1.05, 1.3)
"""For flexible molded parts. Common practice, no source: calibrate by your own free-rise cup and first shots."""
USUAL_OVERPACK_PERCENT = (103.0, 120.0)
"""Common practice, no source (from memory)."""


def free_rise_from_expansion(liquid_density: float, expansion: float) -> float:
    """Free-rise density in g/cm³: liquid density (g/cm³) ÷ expansion ratio (free-rise volume ÷ liquid volume)."""
    _above_zero(liquid_density, "the density of the liquid")
    if expansion < 1:
        raise Refused(
            f"An expansion of {expansion:g} would shrink.", "Type how many times the liquid's volume it fills."
        )
    return liquid_density / expansion


@dataclass(frozen=True, slots=True)
class Shot:
    """A shot of foam for one cavity. Masses in g, volumes in cm³, densities in g/cm³.

    `part_g` ends in the mold, `mixed_g` is weighed so that it does, `loss_percent` of it staying in cup and tools.
    """

    cavity_cm3: float
    free_rise: float
    packing: float
    loss_percent: float

    @property
    def molded(self) -> float:
        """Density of the part: free rise × packing factor."""
        return self.free_rise * self.packing

    @property
    def part_g(self) -> float:
        """Mass in the mold: cavity × molded density."""
        return self.cavity_cm3 * self.molded

    @property
    def mixed_g(self) -> float:
        """Mass to weigh: what goes into the mold ÷ (1 − loss)."""
        return self.part_g / (1 - self.loss_percent / 100)

    @property
    def free_rise_cm3(self) -> float:
        """Volume that the shot would fill if nothing held it."""
        return self.part_g / self.free_rise

    def liquid_cm3(self, liquid_density: float) -> float:
        """Volume of the whole mix in the cup before it rises."""
        return self.mixed_g / liquid_density

    def overpack_percent(self, minimum_fill_g: float) -> float:
        """100 × mass in the mold ÷ the least mass that fills it."""
        _above_zero(minimum_fill_g, "the minimum fill")
        return 100 * self.part_g / minimum_fill_g


def shot(cavity_cm3: float, free_rise: float, *, packing: float = 1.0, loss_percent: float = 0.0) -> Shot:
    """The shot for a cavity (cm³) at a packing factor. Raises Refused for values that cannot be."""
    _above_zero(cavity_cm3, "the volume of the cavity")
    _above_zero(free_rise, "the free-rise density")
    _above_zero(packing, "the packing factor")
    if not 0 <= loss_percent < 90:
        raise Refused(f"A loss of {loss_percent:g} % leaves no part.", "Type what stays in cup and tools, such as 5 %.")
    return Shot(cavity_cm3, free_rise, packing, loss_percent)


def packing_for(molded: float, free_rise: float) -> float:
    """Packing factor: molded ÷ free-rise density, both in g/cm³."""
    _above_zero(molded, "the molded density")
    _above_zero(free_rise, "the free-rise density")
    return molded / free_rise


def split(total: float, parts: Sequence[float]) -> tuple[float, ...]:
    """`total` shared out by parts by weight."""
    whole = sum(parts)
    return tuple(total * part / whole for part in parts)


def warnings_of(made: Shot, *, low: float | None, high: float | None, minimum_fill_g: float | None) -> tuple[str, ...]:
    """What is wrong with a shot, as sentences: too little to fill, or more than the mold should be asked to hold."""
    least, most = low or USUAL_PACKING[0], high or USUAL_PACKING[1]
    of_whom = "its sheet's range" if low or high else "the usual range (common practice, no source)"
    said = []
    if made.packing < 1:
        said.append(
            f"Short shot: left alone this mix rises to {made.free_rise_cm3:.0f} cm³, and the cavity is "
            f"{made.cavity_cm3:.0f} cm³. At a packing factor below 1 it cannot fill the mold."
        )
    elif minimum_fill_g is not None and made.part_g < minimum_fill_g:
        said.append(
            f"Short shot: {made.part_g:.1f} g go into the mold, and your own casts say that it takes "
            f"{minimum_fill_g:.1f} g to fill it."
        )
    elif made.packing < least:
        said.append(
            f"A packing factor of {made.packing:.2f} is below {of_whom}, {least:g} to {most:g}: corners may stay "
            "empty, for flow and skin take more than free rise says."
        )
    if made.packing > most:
        said.append(
            f"Overpressure: a packing factor of {made.packing:.2f} is above {of_whom}, {least:g} to {most:g}. "
            "The mold must vent, be clamped and stand firm; a lid that gives way flies."
        )
    return tuple(said)


def if_multiplied(cavity_cm3: float, liquid_density: float, expansion: float) -> str:
    """Why to divide and never multiply, in the person's own numbers."""
    right = cavity_cm3 / expansion * liquid_density
    wrong = cavity_cm3 * expansion * liquid_density
    return (
        f"Divide, never multiply: {cavity_cm3:g} cm³ ÷ {expansion:g} = {cavity_cm3 / expansion:.4g} cm³ of liquid, "
        f"{right:.4g} g. Multiplied it would be {wrong / 1000:.4g} kg, {expansion**2:.4g} times too much."
    )


@dataclass(frozen=True, slots=True)
class WeighedPart:
    """One cast that was weighed: mass mixed, mass of the part, volume of the cavity, and whether it was full."""

    mixed_g: float
    part_g: float
    cavity_cm3: float
    full: bool = True


@dataclass(frozen=True, slots=True)
class Learned:
    """What weighed parts teach. Spreads are sample standard deviations, None below two parts.

    `minimum_fill` is the least density (g/cm³) at which a cavity came out full, None when none did.
    """

    count: int
    loss_percent: float
    loss_spread: float | None
    molded: float
    molded_spread: float | None
    minimum_fill: float | None


def learned(parts: Sequence[WeighedPart]) -> Learned:
    """Loss and molded density from weighed parts. Raises Refused for none, or a part above its mix."""
    if not parts:
        raise Refused("No part has been weighed yet.", "Weigh one after demolding, flash trimmed or not, always alike.")
    for number, part in enumerate(parts, 1):
        if not 0 < part.part_g <= part.mixed_g or part.cavity_cm3 <= 0:
            raise Refused(
                f"Part {number} weighs {part.part_g:g} g of {part.mixed_g:g} g mixed.",
                "A part cannot outweigh its mix.",
            )
    losses = [100 * (1 - part.part_g / part.mixed_g) for part in parts]
    densities = [part.part_g / part.cavity_cm3 for part in parts]
    filled = [part.part_g / part.cavity_cm3 for part in parts if part.full]
    several = len(parts) > 1
    return Learned(
        len(parts),
        fmean(losses),
        stdev(losses) if several else None,
        fmean(densities),
        stdev(densities) if several else None,
        min(filled, default=None),
    )


def _above_zero(value: float, what: str) -> None:
    if value <= 0:
        raise Refused(f"{what[0].upper()}{what[1:]} must be above zero.", "Look it up on the sheet or measure it.")
