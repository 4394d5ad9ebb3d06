"""What is worked out of a part, each figure with its rule in the person's own values."""

from __future__ import annotations

from station.casting.part import Lengths, molded_density, packing_factor
from station.core.mass import Mass
from station.texts import number, t


def density_words(mass: Mass, cavity_cm3: float | None, step: Mass | None = None) -> str:
    """Molded density in g/cm³; empty where the cavity's volume is not known."""
    if not cavity_cm3:
        return ""
    density = molded_density(mass.g, cavity_cm3)
    return f"{mass.text(step)} / {number(cavity_cm3)} cm³ = {number(density, '.3f')} g/cm³"


def packing_words(mass: Mass, cavity_cm3: float | None, free_rise: float | None) -> str:
    """Packing factor; empty where the cavity or the free-rise density is not known."""
    if not cavity_cm3 or not free_rise:
        return ""
    density = molded_density(mass.g, cavity_cm3)
    factor = packing_factor(density, free_rise)
    return t(
        "packing factor {density} / {free_rise} = {factor}",
        density=number(density, ".3f"),
        free_rise=number(free_rise, ".3f"),
        factor=number(factor, ".2f"),
    )


def shrinkage_words(lengths: Lengths) -> str:
    """Linear shrinkage in % of the mold."""
    mold, part = number(lengths.mold_mm), number(lengths.part_mm)
    difference = f"({mold} − {part})"
    return f"{difference} / {mold} = {number(lengths.shrinkage_percent, '.2f')} %"
