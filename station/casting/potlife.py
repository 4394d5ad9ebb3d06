"""Pot life against the mass in one cup: a large mass heats itself and lives shorter than the sheet's small one."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from station.texts import number, t

USUAL_G = 100.0
"""Published pot lives are mostly of 100 g at 23 °C (formulators' convention)."""


@dataclass(frozen=True, slots=True)
class PotLife:
    """Seconds to count with, and what there is to say of how far they hold for this mass."""

    seconds: float
    words: str
    sure: bool = True


def of_mass(mass_g: float, stated_s: float, stated_g: float | None, table: Sequence[tuple[float, float]]) -> PotLife:
    """The pot life of `mass_g` in one cup.

    Inside the sheet's table of (g, s) it is interpolated on logarithms; above it nothing is extrapolated, for only
    the direction is certain; below it the table's smallest mass counts. Without a table the stated time stands.
    Where one mass is told twice its shortest time counts. Raises ValueError for a mass or a time that is not above
    zero.
    """
    _above_zero(
        mass_g, stated_s, *(() if stated_g is None else (stated_g,)), *(value for row in table for value in row)
    )
    told = (*table, *(((stated_g, stated_s),) if stated_g is not None else ()))
    points = sorted(dict(sorted(told, reverse=True)).items())
    if len(points) < 2:
        return _without_table(mass_g, stated_s, stated_g)
    (least, longest), (most, shortest) = points[0], points[-1]
    if mass_g <= least:
        return PotLife(
            longest,
            t(
                "{mass_g} g in one cup: as the sheet says for {least} g.",
                mass_g=number(mass_g, ".0f"),
                least=number(least),
            ),
        )
    if mass_g > most:
        return PotLife(
            shortest,
            t(
                "The sheet's table ends at {most} g and yours is {mass_g} g: the pot life is shorter than its "
                "{shortest} s, by how much nobody says. Mix less at once, or spread it out.",
                most=number(most),
                mass_g=number(mass_g, ".0f"),
                shortest=number(shortest, ".0f"),
            ),
            sure=False,
        )
    (small, slow), (large, fast) = next((a, b) for a, b in pairwise(points) if mass_g <= b[0])
    part = math.log(mass_g / small) / math.log(large / small)
    seconds = slow * (fast / slow) ** part
    return PotLife(
        seconds,
        t(
            "{mass_g} g in one cup: {seconds} s, between {small} g and {large} g of the sheet.",
            mass_g=number(mass_g, ".0f"),
            seconds=number(seconds, ".0f"),
            small=number(small),
            large=number(large),
        ),
    )


def _above_zero(*values: float) -> None:
    for value in values:
        if not value > 0:
            raise ValueError(
                t("{value} is no mass or pot life. Give masses and times above zero.", value=number(value))
            )


def _without_table(mass_g: float, stated_s: float, stated_g: float | None) -> PotLife:
    if stated_g is None:
        return PotLife(
            stated_s,
            t("The sheet does not say for what mass its pot life holds; mostly it is 100 g, and more lives shorter."),
            sure=mass_g <= USUAL_G,
        )
    if mass_g <= stated_g * 1.1:
        return PotLife(
            stated_s,
            t(
                "The pot life holds for {stated_g} g; yours is {mass_g} g.",
                stated_g=number(stated_g),
                mass_g=number(mass_g, ".0f"),
            ),
        )
    return PotLife(
        stated_s,
        t(
            "The pot life is valid for {stated_g} g; yours is {mass_g} g: shorter, by how much the sheet does not say.",
            stated_g=number(stated_g),
            mass_g=number(mass_g, ".0f"),
        ),
        sure=False,
    )
