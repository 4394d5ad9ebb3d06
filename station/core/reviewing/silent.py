"""What a sheet leaves out with what knowing it would give, and what is worth a word though nothing is wrong."""

from __future__ import annotations

from collections.abc import Iterator

from station.casting.chemistry import Chemistry
from station.core.material import Material
from station.core.reviewing.ratio import density_of_components
from station.core.spans import span
from station.texts import number, t

SPARE = 0.1
"""Part of the pot life below which what mixing and pouring leave of it is hardly anything."""
WIDE_URETHANE_PERCENT = 3.0
"""Urethanes are mixed to 1 to 2 % (common practice, no source)."""


def not_said(material: Material) -> Iterator[str]:
    """Keys that are missing, each with what it would give."""
    times = material.times
    if material.chemistry is Chemistry.OTHER:
        yield t("chemistry: without it no temperature is allowed for, and no caution of its kind is shown.")
    if material.density is None:
        mixed = density_of_components(material)
        by = "" if mixed is None else t(" Its components mixed would be {mixed} g/cm³.", mixed=number(mixed, ".3g"))
        yield t("density of the mix: without it a batch cannot be worked out from a volume.{by}", by=by)
    if times.pot_life_g is None and not times.pot_life_by_mass:
        yield t("pot_life_for: the mass that the pot life holds for, usually 100 g; more mass is shorter.")
    if times.activation_kj is None and not times.at and material.chemistry is not Chemistry.OTHER:
        yield t("activation or times at another temperature: without them a wide range for the chemistry is shown.")
    if times.coldest_c is None:
        yield t("coldest: the temperature below which it must not be used; without it no warning of the cold.")
    if times.full_cure_s is None:
        yield t("full_cure: without it nothing tells when the part may be loaded.")
    if material.chemistry is Chemistry.URETHANE_FOAM and material.foam is None:
        yield t("foam: without free rise or expansion a shot cannot be worked out from a cavity.")
    if not material.kits:
        yield t("kit: without sizes and prices there is no cost and nothing to buy from.")
    for component in material.components:
        if component.opened_life_d is None and component.isocyanate:
            yield t(
                "keeps_opened of {component}: how long an opened can of isocyanate keeps.", component=component.name
            )


def little_time(material: Material) -> Iterator[str]:
    """A pot life that mixing and pouring use up nearly whole."""
    times = material.times
    spare = times.pot_life_s - times.mix_s - times.pour_reserve_s
    if 0 < spare < times.pot_life_s * SPARE:
        yield (
            t(
                "Of the pot life of {pot_life_s} mixing and pouring leave {spare} s: one slow pour and it is lost. "
                "Mix less at once, cooler, or with a second pair of hands.",
                pot_life_s=span(times.pot_life_s),
                spare=number(spare),
            )
        )


def wide_tolerance(material: Material) -> Iterator[str]:
    """An error allowed to a urethane that makes soft or tacky parts."""
    if material.chemistry.isocyanate and material.tolerance_percent > WIDE_URETHANE_PERCENT:
        yield (
            t(
                "± {tolerance_percent} % is wide for a {chemistry}: off ratio it stays soft or tacky. 1 to 2 % is "
                "common practice (no source).",
                tolerance_percent=number(material.tolerance_percent),
                chemistry=t(material.chemistry.value),
            )
        )


def no_cautions(material: Material) -> Iterator[str]:
    """A sheet without a caution."""
    if not material.cautions:
        yield t("No caution is on it: copy those of the safety data sheet, and they are shown at each cast.")
