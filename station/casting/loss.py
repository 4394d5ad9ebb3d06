"""Loss: what of a mix stays in cup and on tools, learned from emptied cups of each size."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean

from station.errors import Refused
from station.texts import number, t, tn

DEFAULT_PERCENT = 3.0
"""Until the first emptied cup was weighed. Common practice, no source."""
LAST = 8
"""How many emptied cups of a size count."""
SAME_SIZE = 0.15
"""Cups whose capacity differs by less than this part count as one size."""


@dataclass(frozen=True, slots=True)
class Emptied:
    """One emptied mixing cup: its capacity in g of water, and what stayed in it, in % of the mix."""

    capacity_g: float
    percent: float


def emptied(capacity_g: float, mixed_g: float, stayed_g: float) -> Emptied:
    """A cup that held `mixed_g` and of which `stayed_g` was left in it and on the tools, in % of the mix.

    Raises Refused when more stayed than was mixed, or more was mixed than the cup holds by far (twice: dense mixes).
    """
    if not (0 < mixed_g <= 2 * capacity_g and 0 <= stayed_g < mixed_g):
        raise Refused(
            t(
                "A cup for {capacity_g} g with {mixed_g} g of mix, {stayed_g} g left behind, cannot be.",
                capacity_g=number(capacity_g),
                mixed_g=number(mixed_g),
                stayed_g=number(stayed_g),
            ),
            t(
                "Type what the cup holds, what was mixed in it, and what the emptied cup weighs more than the "
                "clean one."
            ),
        )
    return Emptied(capacity_g, 100 * stayed_g / mixed_g)


@dataclass(frozen=True, slots=True)
class Allowance:
    """The loss to plan with, in %, and where it comes from, as words."""

    percent: float
    source: str


def allowance(capacity_g: float, seen: Sequence[Emptied]) -> Allowance:
    """The loss for a cup of `capacity_g`: mean of the last cups of its size; else between the sizes known; else 3 %.

    Between two sizes it is interpolated on the capacity. Outside them the nearest size counts: a film grows with the
    wall and a mix with the volume, so a smaller cup loses more than that.
    """
    if not capacity_g > 0 or any(not cup.capacity_g > 0 for cup in seen):
        raise Refused(t("A cup must hold more than nothing."), t("Type how much mix it holds."))
    sizes = _by_size(seen)
    near = min(sizes, key=lambda one: abs(one[0] / capacity_g - 1), default=None)
    if near is not None and abs(near[0] / capacity_g - 1) <= SAME_SIZE:
        lately = near[1][-LAST:]
        return Allowance(
            fmean(lately),
            tn("mean of {n} emptied cup of this size", "mean of {n} emptied cups of this size", len(lately)),
        )
    if not sizes:
        return Allowance(DEFAULT_PERCENT, t("no emptied cup was weighed yet (common practice, no source)"))
    means = [(size, fmean(percents[-LAST:])) for size, percents in sizes]
    below = [one for one in means if one[0] < capacity_g]
    above = [one for one in means if one[0] > capacity_g]
    if below and above:
        (small, low), (large, high) = below[-1], above[0]
        part = (capacity_g - small) / (large - small)
        return Allowance(
            low + part * (high - low),
            t("between cups of {small} g and {large} g", small=number(small), large=number(large)),
        )
    size, percent = below[-1] if below else above[0]
    return Allowance(percent, t("from cups of {size} g, for none of this size was weighed yet", size=number(size)))


def _by_size(seen: Sequence[Emptied]) -> list[tuple[float, list[float]]]:
    """Sizes, the smallest first, each with its percentages in order of time."""
    found: list[tuple[float, list[float]]] = []
    for cup in seen:
        known = next((percents for size, percents in found if abs(size / cup.capacity_g - 1) <= SAME_SIZE), None)
        if known is None:
            found.append((cup.capacity_g, [cup.percent]))
        else:
            known.append(cup.percent)
    return sorted(found)
