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

from station.casting.digits import digits
from station.errors import Refused
from station.texts import N_, number, t


def free_rise_from_expansion(liquid_density: float, expansion: float) -> float:
    """Free-rise density in g/cm³: liquid density (g/cm³) ÷ expansion ratio (free-rise volume ÷ liquid volume)."""
    _above_zero(liquid_density, N_("The density of the liquid must be above zero."))
    if expansion < 1:
        raise Refused(
            t("An expansion of {expansion} would shrink.", expansion=number(expansion)),
            t("Type how many times the liquid's volume it fills."),
        )
    return liquid_density / expansion


@dataclass(frozen=True, slots=True)
class Shot:
    """A shot of foam for one cavity. Masses in g, volumes in cm³, densities in g/cm³.

    `molded` is the density of the part; `free_rise` is None when only that is known. `part_g` ends in the mold,
    `mixed_g` is weighed so that it does, `loss_percent` of it staying in cup and tools.
    """

    cavity_cm3: float
    molded: float
    free_rise: float | None
    loss_percent: float

    @property
    def part_g(self) -> float:
        """Mass in the mold: cavity × molded density."""
        return self.cavity_cm3 * self.molded

    @property
    def mixed_g(self) -> float:
        """Mass to weigh: what goes into the mold ÷ (1 − loss)."""
        return self.part_g / (1 - self.loss_percent / 100)

    @property
    def packing(self) -> float | None:
        """Packing factor: molded ÷ free-rise density."""
        return None if self.free_rise is None else self.molded / self.free_rise

    @property
    def free_rise_cm3(self) -> float | None:
        """Volume that the shot would fill if nothing held it: mass in the mold ÷ free-rise density."""
        return None if self.free_rise is None else self.part_g / self.free_rise

    def liquid_cm3(self, liquid_density: float) -> float:
        """Volume of the whole mix in the cup before it rises."""
        _above_zero(liquid_density, N_("The density of the liquid must be above zero."))
        return self.mixed_g / liquid_density

    def overpack_percent(self, minimum_fill_g: float) -> float:
        """100 × mass in the mold ÷ the least mass that fills it."""
        _above_zero(minimum_fill_g, N_("The minimum fill must be above zero."))
        return 100 * self.part_g / minimum_fill_g


def shot(cavity_cm3: float, free_rise: float, *, packing: float = 1.0, loss_percent: float = 0.0) -> Shot:
    """The shot for a cavity (cm³) at a packing factor: molded density = free rise × packing factor.

    Raises Refused for values that cannot be.
    """
    _above_zero(free_rise, N_("The free-rise density must be above zero."))
    _above_zero(packing, N_("The packing factor must be above zero."))
    return shot_for(cavity_cm3, free_rise * packing, free_rise=free_rise, loss_percent=loss_percent)


def shot_for(cavity_cm3: float, molded: float, *, free_rise: float | None = None, loss_percent: float = 0.0) -> Shot:
    """The shot for a cavity (cm³) at a molded density (g/cm³). Raises Refused for values that cannot be."""
    _above_zero(cavity_cm3, N_("The volume of the cavity must be above zero."))
    _above_zero(molded, N_("The molded density must be above zero."))
    if free_rise is not None:
        _above_zero(free_rise, N_("The free-rise density must be above zero."))
    if not 0 <= loss_percent < 90:
        raise Refused(
            t("A loss of {loss_percent} % leaves no part.", loss_percent=number(loss_percent)),
            t("Type what stays in cup and tools, such as 5 %."),
        )
    return Shot(cavity_cm3, molded, free_rise, loss_percent)


def split(total: float, parts: Sequence[float]) -> tuple[float, ...]:
    """`total` shared out by parts by weight."""
    whole = sum(parts)
    return tuple(total * part / whole for part in parts)


def if_multiplied(cavity_cm3: float, liquid_density: float, expansion: float) -> str:
    """Why to divide and never multiply, in the person's own numbers, before packing and loss."""
    liquid = cavity_cm3 / expansion
    wrong_kg = cavity_cm3 * expansion * liquid_density / 1000
    return t(
        "Divide, never multiply: {cavity_cm3} cm³ ÷ {expansion} = {liquid} cm³ of liquid, {grams} g before "
        "packing and loss. Multiplied it would be {wrong_kg} kg, {times} times too much.",
        cavity_cm3=digits(cavity_cm3),
        expansion=digits(expansion),
        liquid=digits(liquid),
        grams=digits(liquid * liquid_density),
        wrong_kg=digits(wrong_kg),
        times=digits(expansion**2),
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
        raise Refused(
            t("No part has been weighed yet."), t("Weigh one after demolding, trimmed or not, but always alike.")
        )
    for at, part in enumerate(parts, 1):
        _above_zero(part.cavity_cm3, N_("The volume of the cavity must be above zero."))
        if not 0 < part.part_g <= part.mixed_g:
            raise Refused(
                t(
                    "Part {at} weighs {part_g} g of {mixed_g} g mixed.",
                    at=at,
                    part_g=number(part.part_g),
                    mixed_g=number(part.mixed_g),
                ),
                t("A part cannot outweigh its mix."),
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


def _above_zero(value: float, sentence: str) -> None:
    if not value > 0:
        raise Refused(t(sentence), t("Look it up on the sheet or measure it."))
