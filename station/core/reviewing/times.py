"""What contradicts itself in the times of a sheet: their order, and how temperature and mass change them."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from station.casting.kinetics import energy_between
from station.core.material import Material, Times
from station.core.spans import span

USUAL_KJ = (15.0, 120.0)
"""kJ/mol. Published gelation energies of urethanes are 20 to 70 (`casting.kinetics`); the margin is our own guess."""
STATED_AGAINST_TABLE = 2.0
"""An energy and a table may differ by this factor before it is told: tables are rounded to minutes (own guess)."""

NEAR_C = 1.0
"""Rows closer to the reference than this say nothing about the energy."""


def out_of_order(times: Times) -> Iterator[str]:
    """What no cast can be run on: mixing and pouring fit into the pot life, demold comes after it, full cure last."""
    if times.mix_s + times.pour_reserve_s >= times.pot_life_s:
        yield (
            f"mix ({times.mix_s:g} s) and pour_reserve ({times.pour_reserve_s:g} s) together must be shorter than "
            f"pot_life ({times.pot_life_s:g} s)"
        )
    if times.demold_s <= times.pot_life_s:
        yield f"demold ({times.demold_s:g} s) must be longer than pot_life ({times.pot_life_s:g} s)"
    low, high = times.coldest_c, times.warmest_c
    if (low is not None and low > times.reference_c) or (high is not None and high < times.reference_c):
        limits = f"{'-' if low is None else f'{low:g}'} and {'-' if high is None else f'{high:g}'} °C"
        yield f"reference ({times.reference_c:g} °C) must lie between coldest and warmest ({limits})"
    if times.full_cure_s is not None and times.full_cure_s < times.demold_s:
        yield f"full_cure ({times.full_cure_s:g} s) must not be shorter than demold ({times.demold_s:g} s)"


def order(material: Material) -> Iterator[str]:
    """The same as sentences of a review."""
    for said in out_of_order(material.times):
        yield f"{said[0].upper()}{said[1:]}: copy them from the sheet again."


def temperatures(material: Material) -> Iterator[str]:
    """Warmth must shorten the pot life and the demold time, and each row must be one that can be cast by."""
    times = material.times
    rows = (
        (times.reference_c, times.pot_life_s, times.demold_s),
        *((r.celsius, r.pot_life_s, r.demold_s) for r in times.at),
    )
    for what, column in (("pot life", 1), ("demold time", 2)):
        known = sorted((row[0], value) for row in rows if (value := row[column]) is not None)
        for (cold, longer), (warm, shorter) in pairwise(known):
            if cold == warm:
                if longer != shorter:
                    both = f"as {span(longer)} and as {span(shorter)}"
                    yield f"The {what} at {warm:g} °C is given twice, {both}: keep one."
            elif shorter >= longer:
                yield (
                    f"The {what} at {warm:g} °C ({span(shorter)}) is not shorter than at {cold:g} °C ({span(longer)}). "
                    "Warmth makes it shorter: look for a swapped line."
                )
    for row in times.at:
        if row.pot_life_s is not None and row.demold_s is not None and row.demold_s <= row.pot_life_s:
            yield (
                f"At {row.celsius:g} °C demold ({span(row.demold_s)}) is not after the pot life "
                f"({span(row.pot_life_s)}): look for a swapped column."
            )
    outside = [row.celsius for row in times.at if _outside(row.celsius, times.coldest_c, times.warmest_c)]
    if outside:
        yield f"Times are given for {outside[0]:g} °C, outside the sheet's own limits of use. One of them is wrong."


def _outside(celsius: float, low: float | None, high: float | None) -> bool:
    return (low is not None and celsius < low) or (high is not None and celsius > high)


def energies(material: Material) -> Iterator[str]:
    """The activation energy, and that which the table of pot lives amounts to, must be ones of a casting system."""
    times, (least, most) = material.times, USUAL_KJ
    stated = times.activation_kj
    if stated is not None and not least <= stated <= most:
        yield (
            f"An activation energy of {stated:g} kJ/mol is hardly one of a casting system: published ones of "
            "urethanes lie between 20 and 70. Leave it out unless the sheet prints it in kJ/mol."
        )
    for row in times.at:
        if row.pot_life_s is None or abs(row.celsius - times.reference_c) < NEAR_C:
            continue
        found = energy_between(times.pot_life_s, times.reference_c, row.pot_life_s, row.celsius)
        both = f"{span(times.pot_life_s)} at {times.reference_c:g} °C and {span(row.pot_life_s)} at {row.celsius:g} °C"
        # Below zero warmth would slow it: `temperatures` has told that already.
        if found > 0 and not least <= found <= most:
            yield (
                f"A pot life of {both} amounts to an activation energy of {found:.0f} kJ/mol, hardly one of a casting "
                "system: look at the unit of each time."
            )
        elif (
            stated is not None and found > 0 and not 1 / STATED_AGAINST_TABLE <= found / stated <= STATED_AGAINST_TABLE
        ):
            yield (
                f"A pot life of {both} amounts to {found:.0f} kJ/mol, but the activation energy is {stated:g} kJ/mol. "
                "The table counts; leave the energy out if it is not printed."
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
                yield f"The pot life of {large:g} g is given twice, as {span(longer)} and as {span(shorter)}: keep one."
        elif shorter > longer:
            yield (
                f"The pot life of {large:g} g ({span(shorter)}) is longer than of {small:g} g ({span(longer)}). "
                "More mass heats itself: look for a swapped line."
            )
