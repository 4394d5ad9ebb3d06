"""Review of a material sheet: what contradicts itself, what is not known, and what knowing it would give."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from station.casting.chemistry import Chemistry
from station.casting.foam import free_rise_from_expansion
from station.casting.ratio import weight_shares
from station.casting.two_ratios import compared, printed_densities, printed_parts
from station.core.material import Basis, Kit, Material

FOAM_RISE_PERCENT = 10.0
"""How far free rise and expansion may be apart: both are rounded, and a cup rises less than a block."""
KIT_PERCENT = 5.0
"""Part of a kit that may be left over before it is told."""
USUAL_DENSITY: dict[Chemistry, tuple[float, float]] = {
    # g/cm³, common practice, no source: outside it, a slip in the units is likelier than the material.
    Chemistry.ADDITION_SILICONE: (0.95, 1.6),
    Chemistry.CONDENSATION_SILICONE: (0.95, 1.6),
    Chemistry.URETHANE_FOAM: (0.95, 1.3),
    Chemistry.URETHANE_RUBBER: (0.95, 1.4),
}


@dataclass(frozen=True, slots=True)
class Review:
    """Sentences about one sheet. `contradictions` must be settled before casting; `unknown` only leave things out."""

    contradictions: tuple[str, ...]
    unknown: tuple[str, ...]


Rule = Callable[[Material], Iterator[str]]


def review(material: Material) -> Review:
    """All that can be said against a sheet from the sheet alone."""
    return Review(
        tuple(said for rule in _CONTRADICTIONS for said in rule(material)),
        tuple(said for rule in _UNKNOWN for said in rule(material)),
    )


def _two_ratios(material: Material) -> Iterator[str]:
    parts = [component.parts for component in material.components]
    other = [component.other_parts for component in material.components]
    dense = [component.density for component in material.components]
    known = [part for part in other if part is not None]
    densities = [density for density in dense if density is not None]
    if len(known) != len(parts):
        if known:
            yield "other_parts is given for some components only. Give it for all, or for none."
        return
    if len(densities) != len(parts):
        return
    by_weight, by_volume = (known, parts) if material.basis is Basis.VOLUME else (parts, known)
    found = compared(printed_parts(by_weight), printed_parts(by_volume), printed_densities(densities))
    if not found.agrees:
        yield found.sentence(tuple(component.name for component in material.components))


def _expansion(material: Material) -> Iterator[str]:
    foam = material.foam
    if foam is None or not (foam.free_rise_density and foam.expansion and material.density):
        return
    by_expansion = free_rise_from_expansion(material.density, foam.expansion)
    off = abs(by_expansion / foam.free_rise_density - 1) * 100
    if off > FOAM_RISE_PERCENT:
        yield (
            f"A liquid of {material.density * 1000:.0f} kg/m³ that expands {foam.expansion:g} times is "
            f"{by_expansion * 1000:.0f} kg/m³, but the free-rise density is {foam.free_rise_density * 1000:.0f} kg/m³: "
            f"{off:.0f} % apart. Raise a cup of it, weigh it, and keep what you find."
        )


def _temperatures(material: Material) -> Iterator[str]:
    times = material.times
    reference = (times.reference_c, times.pot_life_s, times.demold_s)
    rows = sorted([reference, *((row.celsius, row.pot_life_s, row.demold_s) for row in times.at)])
    for what, column in (("pot life", 1), ("demold time", 2)):
        known = [(row[0], row[column]) for row in rows if row[column] is not None]
        for (cold, longer), (warm, shorter) in pairwise(known):
            if shorter >= longer:  # type: ignore[operator]
                yield (
                    f"The {what} at {warm:g} °C ({shorter:g} s) is not shorter than at {cold:g} °C ({longer:g} s). "
                    "Warmth makes it shorter: look for a swapped line."
                )
    if times.activation_kj is not None and not 15 <= times.activation_kj <= 120:
        yield (
            f"An activation energy of {times.activation_kj:g} kJ/mol is hardly one of a casting system: "
            "published ones of urethanes lie between 20 and 70."
        )
    outside = [row.celsius for row in times.at if _outside(row.celsius, times.coldest_c, times.warmest_c)]
    if outside:
        yield f"Times are given for {outside[0]:g} °C, outside the sheet's own limits of use."


def _outside(celsius: float, low: float | None, high: float | None) -> bool:
    return (low is not None and celsius < low) or (high is not None and celsius > high)


def _masses(material: Material) -> Iterator[str]:
    for small, large in pairwise(material.times.pot_life_by_mass):
        if large.pot_life_s > small.pot_life_s:
            yield (
                f"The pot life of {large.mass_g:g} g ({large.pot_life_s:g} s) is longer than of {small.mass_g:g} g "
                f"({small.pot_life_s:g} s). More mass heats itself: look for a swapped line."
            )


def _isocyanate(material: Material) -> Iterator[str]:
    marked = [component.name for component in material.components if component.isocyanate]
    if material.chemistry.isocyanate and not marked:
        yield (
            f"A {material.chemistry.value} has an isocyanate side, and no component is marked so. Its lots cannot be "
            "watched for moisture: add isocyanate = true to it."
        )
    silicone = material.chemistry in (Chemistry.ADDITION_SILICONE, Chemistry.CONDENSATION_SILICONE)
    if silicone and marked:
        yield f"A {material.chemistry.value} has no isocyanate, but {', '.join(marked)} is marked as one."
    for component in material.components:
        if component.nco_percent is not None and component.oh_number is not None:
            yield f"{component.name} has both NCO and OH numbers: each side has one of them."


def _foam_facts(material: Material) -> Iterator[str]:
    if material.foam is not None and material.chemistry not in (Chemistry.URETHANE_FOAM, Chemistry.OTHER):
        yield f"It has a table of foam, but its chemistry is {material.chemistry.value}."
    low, high = USUAL_DENSITY.get(material.chemistry, (0.0, 10.0))
    for what, density in (("the mix", material.density), *((c.name, c.density) for c in material.components)):
        if density is not None and not low * 0.9 <= density <= high * 1.1:
            yield (
                f"A density of {density:g} g/cm³ of {what} is unusual for {material.chemistry.value} ({low:g} to "
                f"{high:g}, common practice, no source). For a foam, give the liquid's here and free rise under foam."
            )


def _kits(material: Material) -> Iterator[str]:
    shares = _shares(material)
    if shares is None:
        return
    for kit in material.kits:
        left = _left_over(kit, shares)
        if left is not None and left[1] > KIT_PERCENT:
            name, percent, grams = left
            yield (
                f"Kit {kit.title!r}: at this mix ratio {grams:.0f} g of {name} ({percent:.0f} % of it) are left when "
                "the rest is used up. Is the ratio by weight or by volume?"
            )


def _shares(material: Material) -> dict[str, float] | None:
    parts = [component.parts for component in material.components]
    densities = [c.density for c in material.components] if material.basis is Basis.VOLUME else None
    try:
        found = weight_shares(parts, densities)
    except ValueError:
        return None
    return dict(zip((c.name for c in material.components), found, strict=True))


def _left_over(kit: Kit, shares: dict[str, float]) -> tuple[str, float, float] | None:
    """Component of which most is left, how much of it in %, and in g."""
    held = {part.component: part.mass.g for part in kit.parts}
    if set(held) != set(shares):
        return None
    batch = min(held[name] / share for name, share in shares.items())
    left = {name: held[name] - batch * share for name, share in shares.items()}
    worst = max(left, key=lambda name: left[name] / held[name])
    return worst, left[worst] / held[worst] * 100, left[worst]


def _not_said(material: Material) -> Iterator[str]:
    times = material.times
    if material.chemistry is Chemistry.OTHER:
        yield "chemistry: without it no temperature is allowed for, and no caution of its kind is shown."
    if material.density is None:
        yield "density of the mix: without it a batch cannot be worked out from a volume."
    if times.pot_life_g is None and not times.pot_life_by_mass:
        yield "pot_life_for: the mass that the pot life holds for, usually 100 g; more mass is shorter."
    if times.activation_kj is None and not times.at and material.chemistry is not Chemistry.OTHER:
        yield "activation or times at another temperature: without them a wide range for the chemistry is shown."
    if times.coldest_c is None:
        yield "coldest: the temperature below which it must not be used; without it no warning of the cold."
    if times.full_cure_s is None:
        yield "full_cure: without it nothing tells when the part may be loaded."
    if material.chemistry is Chemistry.URETHANE_FOAM and material.foam is None:
        yield "foam: without free rise or expansion a shot cannot be worked out from a cavity."
    if not material.kits:
        yield "kit: without sizes and prices there is no cost and nothing to buy from."
    for component in material.components:
        if component.opened_life_d is None and component.isocyanate:
            yield f"keeps_opened of {component.name}: how long an opened can of isocyanate keeps."


_CONTRADICTIONS: tuple[Rule, ...] = (
    _two_ratios,
    _expansion,
    _temperatures,
    _masses,
    _isocyanate,
    _foam_facts,
    _kits,
)
_UNKNOWN: tuple[Rule, ...] = (_not_said,)
