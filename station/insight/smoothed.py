"""Smoothed figures: each counts less the older it is, so that a slow drift stands out from the noise (EWMA)."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from station.insight.spread import Interval

WEIGHT: Final = 0.3
"""What the newest figure counts; 0.2 to 0.3 is usual (NIST/SEMATECH e-Handbook 6.3.2.4)."""
WIDE: Final = 3.0
"""Limits in standard deviations of the smoothed figure."""


@dataclass(frozen=True, slots=True)
class Smoothed:
    """`values` smoothed, one for each cast; `limits` for each, wider as more casts count; `beyond`: places outside."""

    values: tuple[float, ...]
    limits: tuple[Interval, ...]
    beyond: tuple[int, ...]


def smoothed(values: Sequence[float], middle: float, sigma: float, weight: float = WEIGHT) -> Smoothed:
    """z_i = w x_i + (1 - w) z_(i-1) from z_0 = `middle`, within middle ± 3 sigma sqrt(w/(2-w) (1 - (1-w)^(2i))).

    `sigma` is one figure's standard deviation, in the values' unit. NIST/SEMATECH e-Handbook 6.3.2.4.
    """
    now, found, limits = middle, [], []
    for count, value in enumerate(values, start=1):
        now = weight * value + (1 - weight) * now
        found.append(now)
        limits.append(within(middle, sigma, weight, count))
    grain = 1e-9 * abs(middle)
    beyond = [
        place
        for place, (at, (low, high)) in enumerate(zip(found, limits, strict=True))
        if at < low - grain or at > high + grain
    ]
    return Smoothed(tuple(found), tuple(limits), tuple(beyond))


def within(middle: float, sigma: float, weight: float = WEIGHT, count: int | None = None) -> Interval:
    """The limits of a figure smoothed over `count` casts; None: over very many."""
    settled = 1.0 if count is None else 1 - (1 - weight) ** (2 * count)
    half = WIDE * sigma * math.sqrt(weight / (2 - weight) * settled)
    return Interval(middle - half, middle + half)
