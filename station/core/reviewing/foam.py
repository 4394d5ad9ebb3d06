"""What contradicts itself in densities, the rise of a foam, and the chemistry that a sheet names."""

from __future__ import annotations

from collections.abc import Iterator

from station.casting.chemistry import Chemistry
from station.casting.foam import free_rise_from_expansion
from station.core.material import FoamFacts, Material
from station.core.reviewing.ratio import density_of_components
from station.texts import number, t

FOAM_RISE_PERCENT = 10.0
"""How far free rise and expansion may be apart: both are rounded, and a cup rises less than a block."""
USUAL_PACKING = (1.0, 2.5)
"""Below 1 a mold does not fill; common practice, no source, packs flexible foam 1.05 to 1.5, rigid up to 2."""
USUAL_DENSITY: dict[Chemistry, tuple[float, float]] = {
    # g/cm³, common practice, no source: outside it, a slip in the units is likelier than the material.
    Chemistry.ADDITION_SILICONE: (0.95, 1.6),
    Chemistry.CONDENSATION_SILICONE: (0.95, 1.6),
    Chemistry.URETHANE_FOAM: (0.95, 1.3),
    Chemistry.URETHANE_RUBBER: (0.95, 1.4),
}
LIQUIDS = (0.8, 3.0)
"""Densities in g/cm³ that a casting liquid of any kind has, filled ones included (own guess)."""


def rise(material: Material) -> Iterator[str]:
    """Free-rise density, expansion and the density of the liquid must fit each other."""
    foam = material.foam
    if foam is None:
        return
    liquid = material.density or density_of_components(material)
    if foam.free_rise_density and liquid and foam.free_rise_density >= liquid:
        yield (
            t(
                "The free-rise density ({free_rise_density} kg/m³) is not below that of the liquid ({liquid} kg/m³): "
                "a foam grows lighter. Look at the units.",
                free_rise_density=f"{foam.free_rise_density * 1000:.0f}",
                liquid=f"{liquid * 1000:.0f}",
            )
        )
    elif foam.free_rise_density and foam.expansion:
        yield from _two_rises(foam.free_rise_density, foam.expansion, liquid)


def _two_rises(free_rise: float, expansion: float, liquid: float | None) -> Iterator[str]:
    if liquid is None:
        implied = free_rise * expansion
        if not LIQUIDS[0] <= implied <= LIQUIDS[1]:
            yield (
                t(
                    "A foam of {free_rise} kg/m³ that expanded {expansion} times was a liquid of {implied} g/cm³, "
                    "and no casting liquid is. One of the two is wrong, or its unit.",
                    free_rise=f"{free_rise * 1000:.0f}",
                    expansion=number(expansion),
                    implied=number(implied, ".2f"),
                )
            )
        return
    by_expansion = free_rise_from_expansion(liquid, expansion)
    off = abs(by_expansion / free_rise - 1) * 100
    if off > FOAM_RISE_PERCENT:
        yield (
            t(
                "A liquid of {liquid} kg/m³ that expands {expansion} times is {by_expansion} kg/m³, but the "
                "free-rise density is {free_rise} kg/m³: {off} % apart. Raise a cup of it, weigh it, and keep what "
                "you find.",
                liquid=f"{liquid * 1000:.0f}",
                expansion=number(expansion),
                by_expansion=f"{by_expansion * 1000:.0f}",
                free_rise=f"{free_rise * 1000:.0f}",
                off=f"{off:.0f}",
            )
        )


def packing_out_of_order(foam: FoamFacts) -> Iterator[str]:
    """A range that is none."""
    if foam.packing_low and foam.packing_high and foam.packing_low > foam.packing_high:
        yield t(
            "packing_low ({packing_low}) must not be above packing_high ({packing_high})",
            packing_low=number(foam.packing_low),
            packing_high=number(foam.packing_high),
        )


def packing(material: Material) -> Iterator[str]:
    """The packing factors must be ones by which a mold fills and holds."""
    foam = material.foam
    if foam is None:
        return
    yield from (t("{said}: swap them.", said=said) for said in packing_out_of_order(foam))
    low, high = USUAL_PACKING
    if foam.packing_low is not None and foam.packing_low < low:
        yield (
            t(
                "A packing factor of {packing_low} is a part lighter than free rise: the mold would not fill. It is "
                "molded ÷ free-rise density, above 1.",
                packing_low=number(foam.packing_low),
            )
        )
    if foam.packing_high is not None and foam.packing_high > high:
        yield (
            t(
                "A packing factor of {packing_high} is hardly one: above {high} a mold leaks or bursts (common "
                "practice, no source). Is it the overpack in %, or the expansion?",
                packing_high=number(foam.packing_high),
                high=number(high),
            )
        )


def densities(material: Material) -> Iterator[str]:
    """Liquids must weigh what liquids of their chemistry weigh."""
    low, high = USUAL_DENSITY.get(material.chemistry, LIQUIDS)
    of = (
        t("for {chemistry}", chemistry=t(material.chemistry.value))
        if material.chemistry in USUAL_DENSITY
        else t("for a casting liquid")
    )
    for what, density in ((t("the mix"), material.density), *((c.name, c.density) for c in material.components)):
        if density is not None and not low * 0.9 <= density <= high * 1.1:
            yield (
                t(
                    "A density of {density} g/cm³ of {what} is unusual {of} ({low} to {high}, common practice, no "
                    "source). For a foam, give the liquid's here and free rise under foam.",
                    density=number(density),
                    what=what,
                    of=of,
                    low=number(low),
                    high=number(high),
                )
            )


def chemistry(material: Material) -> Iterator[str]:
    """Isocyanate and foam belong to the chemistries that have them."""
    marked = [component.name for component in material.components if component.isocyanate]
    if material.chemistry.isocyanate and not marked:
        yield (
            t(
                "A {chemistry} has an isocyanate side, and no component is marked so. Its lots cannot be watched for "
                "moisture: add isocyanate = true to it.",
                chemistry=t(material.chemistry.value),
            )
        )
    silicone = material.chemistry in (Chemistry.ADDITION_SILICONE, Chemistry.CONDENSATION_SILICONE)
    if silicone and marked:
        yield t(
            "A {chemistry} has no isocyanate, but {marked} is marked as one.",
            chemistry=t(material.chemistry.value),
            marked=", ".join(marked),
        )
    for component in material.components:
        told = material.chemistry.isocyanate and not marked
        if component.nco_percent is not None and not component.isocyanate and not told:
            yield t(
                "{component} has an NCO content and is not marked as the isocyanate: add isocyanate = true.",
                component=component.name,
            )
        if component.oh_number is not None and component.isocyanate and component.nco_percent is None:
            yield t(
                "{component} is marked as the isocyanate and has an OH number: that is the other side's.",
                component=component.name,
            )
    if material.foam is not None and material.chemistry not in (Chemistry.URETHANE_FOAM, Chemistry.OTHER):
        yield t("It has a table of foam, but its chemistry is {chemistry}.", chemistry=t(material.chemistry.value))
