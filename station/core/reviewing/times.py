"""What contradicts itself in the times of a sheet: their order, and how temperature and mass change them."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from station.casting.kinetics import energy_between
from station.core.material import Material, Times
from station.core.spans import span
from station.texts import number, t

USUAL_KJ = (15.0, 120.0)
"""kJ/mol. Published gelation energies of urethanes are 20 to 70 (`casting.kinetics`); the margin is our own guess."""
STATED_AGAINST_TABLE = 2.0
"""An energy and a table may differ by this factor before it is told: tables are rounded to minutes (own guess)."""

NEAR_C = 1.0
"""Rows closer to the reference than this say nothing about the energy."""


def _or_dash(limit: float | None) -> str:
    return "-" if limit is None else number(limit)


def out_of_order(times: Times) -> Iterator[tuple[str, str]]:
    """What no cast can be run on: mixing and pouring fit into the pot life, demold comes after it, full cure last.

    Each with the key that it is about.
    """
    if times.mix_s + times.pour_reserve_s >= times.pot_life_s:
        yield (
            "mix",
            t(
                "mix ({mix_s} s) and pour_reserve ({pour_reserve_s} s) together must be shorter than pot_life "
                "({pot_life_s} s)",
                mix_s=number(times.mix_s),
                pour_reserve_s=number(times.pour_reserve_s),
                pot_life_s=number(times.pot_life_s),
            ),
        )
    if times.demold_s <= times.pot_life_s:
        yield (
            "demold",
            t(
                "demold ({demold_s} s) must be longer than pot_life ({pot_life_s} s)",
                demold_s=number(times.demold_s),
                pot_life_s=number(times.pot_life_s),
            ),
        )
    low, high = times.coldest_c, times.warmest_c
    if (low is not None and low > times.reference_c) or (high is not None and high < times.reference_c):
        limits = t("{low} and {high} °C", low=_or_dash(low), high=_or_dash(high))
        yield (
            "reference",
            t(
                "reference ({reference_c} °C) must lie between coldest and warmest ({limits})",
                reference_c=number(times.reference_c),
                limits=limits,
            ),
        )
    if times.full_cure_s is not None and times.full_cure_s < times.demold_s:
        yield (
            "full_cure",
            t(
                "full_cure ({full_cure_s} s) must not be shorter than demold ({demold_s} s)",
                full_cure_s=number(times.full_cure_s),
                demold_s=number(times.demold_s),
            ),
        )


def order(material: Material) -> Iterator[str]:
    """The same as sentences of a review."""
    for _, said in out_of_order(material.times):
        yield t("{problem}: copy them from the sheet again.", problem=said[0].upper() + said[1:])


def temperatures(material: Material) -> Iterator[str]:
    """Warmth must shorten the pot life and the demold time, and each row must be one that can be cast by."""
    times = material.times
    rows = (
        (times.reference_c, times.pot_life_s, times.demold_s),
        *((r.celsius, r.pot_life_s, r.demold_s) for r in times.at),
    )
    for what, column in ((t("pot life"), 1), (t("demold time"), 2)):
        known = sorted((row[0], value) for row in rows if (value := row[column]) is not None)
        for (cold, longer), (warm, shorter) in pairwise(known):
            if cold == warm:
                if longer != shorter:
                    both = t("as {longer} and as {shorter}", longer=span(longer), shorter=span(shorter))
                    yield t(
                        "The {what} at {warm} °C is given twice, {both}: keep one.",
                        what=what,
                        warm=number(warm),
                        both=both,
                    )
            elif shorter >= longer:
                yield (
                    t(
                        "The {what} at {warm} °C ({shorter}) is not shorter than at {cold} °C ({longer}). Warmth "
                        "makes it shorter: look for a swapped line.",
                        what=what,
                        warm=number(warm),
                        shorter=span(shorter),
                        cold=number(cold),
                        longer=span(longer),
                    )
                )
    for row in times.at:
        if row.pot_life_s is not None and row.demold_s is not None and row.demold_s <= row.pot_life_s:
            yield (
                t(
                    "At {celsius} °C demold ({demold_s}) is not after the pot life ({pot_life_s}): look for a swapped "
                    "column.",
                    celsius=number(row.celsius),
                    demold_s=span(row.demold_s),
                    pot_life_s=span(row.pot_life_s),
                )
            )
    outside = [row.celsius for row in times.at if _outside(row.celsius, times.coldest_c, times.warmest_c)]
    if outside:
        yield t(
            "Times are given for {outside} °C, outside the sheet's own limits of use. One of them is wrong.",
            outside=number(outside[0]),
        )


def _outside(celsius: float, low: float | None, high: float | None) -> bool:
    return (low is not None and celsius < low) or (high is not None and celsius > high)


def energies(material: Material) -> Iterator[str]:
    """The activation energy, and that which the table of pot lives amounts to, must be ones of a casting system."""
    times, (least, most) = material.times, USUAL_KJ
    stated = times.activation_kj
    if stated is not None and not least <= stated <= most:
        yield (
            t(
                "An activation energy of {stated} kJ/mol is hardly one of a casting system: published ones of "
                "urethanes lie between 20 and 70. Leave it out unless the sheet prints it in kJ/mol.",
                stated=number(stated),
            )
        )
    for row in times.at:
        if row.pot_life_s is None or abs(row.celsius - times.reference_c) < NEAR_C:
            continue
        found = energy_between(times.pot_life_s, times.reference_c, row.pot_life_s, row.celsius)
        both = t(
            "{pot_life_s} at {reference_c} °C and {pot_life_s2} at {celsius} °C",
            pot_life_s=span(times.pot_life_s),
            reference_c=number(times.reference_c),
            pot_life_s2=span(row.pot_life_s),
            celsius=number(row.celsius),
        )
        # Below zero warmth would slow it: `temperatures` has told that already.
        if found > 0 and not least <= found <= most:
            yield (
                t(
                    "A pot life of {both} amounts to an activation energy of {found} kJ/mol, hardly one of a casting "
                    "system: look at the unit of each time.",
                    both=both,
                    found=f"{found:.0f}",
                )
            )
        elif (
            stated is not None and found > 0 and not 1 / STATED_AGAINST_TABLE <= found / stated <= STATED_AGAINST_TABLE
        ):
            yield (
                t(
                    "A pot life of {both} amounts to {found} kJ/mol, but the activation energy is {stated} kJ/mol. The "
                    "table counts; leave the energy out if it is not printed.",
                    both=both,
                    found=f"{found:.0f}",
                    stated=number(stated),
                )
            )


def masses(material: Material) -> Iterator[str]:
    """More mass must not live longer; the pot life must be the one that its own table gives for its mass."""
    times = material.times
    rows = [(row.mass_g, row.pot_life_s) for row in times.pot_life_by_mass]
    if times.pot_life_g is not None:
        rows.append((times.pot_life_g, times.pot_life_s))
    for (small, longer), (large, shorter) in pairwise(sorted(rows)):
        if small == large:
            if longer != shorter:
                yield t(
                    "The pot life of {large} g is given twice, as {longer} and as {shorter}: keep one.",
                    large=number(large),
                    longer=span(longer),
                    shorter=span(shorter),
                )
        elif shorter > longer:
            yield (
                t(
                    "The pot life of {large} g ({shorter}) is longer than of {small} g ({longer}). More mass heats "
                    "itself: look for a swapped line.",
                    large=number(large),
                    shorter=span(shorter),
                    small=number(small),
                    longer=span(longer),
                )
            )
