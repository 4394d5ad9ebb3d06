"""What contradicts itself around the mix ratio: its two statements, densities, equivalents and kits."""

from __future__ import annotations

from collections.abc import Iterator

from station.casting.stoichiometry import Taker, index_of, isocyanate_weight, polyol_weight
from station.casting.two_ratios import compared, printed_densities, printed_parts
from station.core.material import Basis, Kit, Material
from station.core.shares import component_shares
from station.texts import number, t

KIT_PERCENT = 5.0
"""Part of a component in a kit that may be left over before the kit contradicts the ratio."""
KIT_WORTH_A_WORD_PERCENT = 1.0
MIX_DENSITY_PERCENT = 3.0
"""How far the density of a mix may be from that of its components: mixing changes volume little (own guess)."""
USUAL_INDEX = (80.0, 130.0)
"""Isocyanate index of cast systems with margin: 95 to 110 is common practice, no source."""


def two_ratios(material: Material) -> Iterator[str]:
    """By weight and by volume must say the same within what was printed."""
    parts = [component.parts for component in material.components]
    known = [component.other_parts for component in material.components if component.other_parts is not None]
    densities = [component.density for component in material.components if component.density is not None]
    if len(known) != len(parts):
        if known:
            yield t("other_parts is given for some components only. Give it for all, or for none.")
        return
    if len(densities) != len(parts):
        return
    by_weight, by_volume = (known, parts) if material.basis is Basis.VOLUME else (parts, known)
    found = compared(printed_parts(by_weight), printed_parts(by_volume), printed_densities(densities))
    if not found.agrees:
        told = found.sentence(tuple(component.name for component in material.components))
        yield t("{told} Ask the maker which of them counts; until then go by weight.", told=told)


def shares(material: Material) -> dict[str, float] | None:
    """Share by weight of each component; None when the sheet does not allow it to be worked out."""
    try:
        return component_shares(material)
    except ValueError:
        return None


def density_of_components(material: Material) -> float | None:
    """Density in g/cm³ of the mix if volumes add up: 1 ÷ Σ (share by weight ÷ density). None when not known."""
    by_weight = shares(material)
    if by_weight is None or any(component.density is None for component in material.components):
        return None
    return 1 / sum(by_weight[c.name] / c.density for c in material.components if c.density)


def mix_density(material: Material) -> Iterator[str]:
    """The density of the mix must be that of its components mixed."""
    mixed = density_of_components(material)
    if mixed is None or material.density is None:
        return
    off = abs(material.density / mixed - 1) * 100
    if off > MIX_DENSITY_PERCENT:
        each = ", ".join(f"{c.name} {number(c.density or 0.0)}" for c in material.components)
        yield (
            t(
                "Components of {each} g/cm³ mixed by the ratio are {mixed} g/cm³, but the density of the mix is "
                "{density} g/cm³: {off} % apart. Leave it out, or give the one of the liquid mix.",
                each=each,
                mixed=number(mixed, ".3g"),
                density=number(material.density),
                off=f"{off:.0f}",
            )
        )


def equivalents(material: Material) -> Iterator[str]:
    """Each side has an NCO or an OH number, and together they must nearly use each other up."""
    for component in material.components:
        if component.nco_percent is not None and component.oh_number is not None:
            yield t("{component} has both NCO and OH numbers: each side has one of them.", component=component.name)
    index = _index(material)
    if index is not None and not USUAL_INDEX[0] <= index <= USUAL_INDEX[1]:
        yield (
            t(
                "By its NCO and OH numbers this mix ratio has an isocyanate index of {index}; cast systems aim at 95 "
                "to 110 (common practice, no source). Look at the ratio, and whether a side also holds water or "
                "chain extender.",
                index=f"{index:.0f}",
            )
        )


def _index(material: Material) -> float | None:
    by_weight = shares(material)
    nco = [c for c in material.components if c.nco_percent is not None]
    takers = [c for c in material.components if c.oh_number is not None]
    # A side without any number may take isocyanate as well: then nothing follows.
    if by_weight is None or len(nco) != 1 or len(takers) != len(material.components) - 1 or nco[0] in takers:
        return None
    room = [Taker(by_weight[c.name], polyol_weight(c.oh_number)) for c in takers if c.oh_number]
    return index_of(by_weight[nco[0].name], isocyanate_weight(nco[0].nco_percent or 0.0), room)


def kits(material: Material) -> Iterator[str]:
    """A kit must hold what the ratio needs."""
    for kit, name, percent, grams in _left_over(material):
        if percent > KIT_PERCENT:
            yield (
                t(
                    "Kit {kit}: at this mix ratio {grams} g of {name} ({percent} % of it) are left when the rest "
                    "is used up. Is the ratio by weight or by volume?",
                    kit=repr(kit.title),
                    grams=f"{grams:.0f}",
                    name=name,
                    percent=f"{percent:.0f}",
                )
            )


def kit_rests(material: Material) -> Iterator[str]:
    """What little of a kit is left over."""
    for kit, name, percent, grams in _left_over(material):
        if KIT_WORTH_A_WORD_PERCENT < percent <= KIT_PERCENT:
            yield t(
                "Kit {kit} leaves {grams} g of {name} ({percent} % of it) when the rest is used up.",
                kit=repr(kit.title),
                grams=f"{grams:.0f}",
                name=name,
                percent=number(percent, ".1f"),
            )


def _left_over(material: Material) -> Iterator[tuple[Kit, str, float, float]]:
    """For each kit of all components: that of which most is left, how much of it in %, and in g."""
    by_weight = shares(material)
    for kit in material.kits:
        held: dict[str, float] = {}
        for part in kit.parts:
            held[part.component] = held.get(part.component, 0.0) + part.mass.g
        if by_weight is None or set(held) != set(by_weight):
            continue
        batch = min(held[name] / share for name, share in by_weight.items())
        left = {name: held[name] - batch * share for name, share in by_weight.items()}
        worst = max(left, key=lambda name: left[name] / held[name])
        yield kit, worst, left[worst] / held[worst] * 100, left[worst]
