"""Charts of single figures, cast after cast: the figures with their limits, and the ranges from each to the next."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise
from typing import Final

from station.texts import N_

D2: Final = 1.128
"""Mean of the range of two, in standard deviations of a normal distribution (NIST/SEMATECH 6.3.2.2)."""
D4: Final = 3.267
"""Upper limit of the range of two, in mean ranges (NIST/SEMATECH 6.3.2.1, table for n = 2)."""
RUN: Final = 9
"""So many in a row on one side of the middle are marked (Nelson 1984, test 2)."""
FEWEST: Final = 5
"""Fewer figures give no limits: common practice, no source."""
FEW: Final = 25
"""Limits from fewer figures than this are called uncertain: common practice, no source."""


class Rule(Enum):
    """Why a cast is marked. Two rules only: each further one marks more charts without a cause.

    Of 30 figures that differ by chance alone these two mark something in 9 charts of 100, and in 5 of 20 figures, 20 of
    60 (`tests.benchmarks.insight_marks`). Ranges beyond their limit are not marked: that would double it.
    """

    BEYOND = N_("beyond a limit")
    RUN = N_("one of nine or more in a row on one side of the middle")


@dataclass(frozen=True, slots=True)
class Limits:
    """`middle` with limits `low` and `high` three `sigma` from it; `sigma` = mean range / 1.128.

    `sigma_off` is the relative standard error of `sigma` as estimated from that many ranges.
    """

    middle: float
    sigma: float
    low: float
    high: float
    range_mean: float
    range_high: float
    sigma_off: float


@dataclass(frozen=True, slots=True)
class Individuals:
    """Figures in the order of their casts; `ranges` are between neighbours, one fewer. `marks`: by place, why."""

    values: tuple[float, ...]
    ranges: tuple[float, ...]
    limits: Limits
    marks: tuple[tuple[int, Rule], ...]

    @property
    def few(self) -> bool:
        """Whether the limits rest on few figures."""
        return len(self.values) < FEW


def individuals(values: Sequence[float]) -> Individuals | None:
    """The chart of some figures, the oldest first; None of fewer than `FEWEST`.

    X-bar ± 3 MR-bar / 1.128, upper limit of the ranges 3.267 MR-bar (NIST/SEMATECH e-Handbook 6.3.2.2). The standard
    error of sigma / sigma is sqrt(0.8265 n - 1.082) / (n - 1): neighbouring ranges share a figure (Cryer and Ryan 1990,
    from memory; the tests find it again by simulation).
    """
    if len(values) < FEWEST:
        return None
    n = len(values)
    ranges = tuple(abs(after - before) for before, after in pairwise(values))
    middle, range_mean = math.fsum(values) / n, math.fsum(ranges) / (n - 1)
    sigma = range_mean / D2
    limits = Limits(
        middle=middle,
        sigma=sigma,
        low=middle - 3 * sigma,
        high=middle + 3 * sigma,
        range_mean=range_mean,
        range_high=D4 * range_mean,
        sigma_off=math.sqrt(0.8265 * n - 1.082) / (n - 1),
    )
    return Individuals(tuple(values), ranges, limits, marked(values, limits))


def marked(values: Sequence[float], limits: Limits) -> tuple[tuple[int, Rule], ...]:
    """Which figures the two rules mark, by place; one that both mark is told for being beyond."""
    # Equal figures whose mean is rounded must not lie beyond limits that coincide.
    grain = 1e-9 * max(abs(limits.low), abs(limits.high))
    found: dict[int, Rule] = {}
    run, side = 0, 0
    for place, value in enumerate(values):
        now = 0 if abs(value - limits.middle) <= grain else 1 if value > limits.middle else -1
        run = run + 1 if now == side and now != 0 else abs(now)
        side = now
        if run >= RUN:
            found |= dict.fromkeys(range(place - run + 1, place + 1), Rule.RUN)
    for place, value in enumerate(values):
        if value < limits.low - grain or value > limits.high + grain:
            found[place] = Rule.BEYOND
    return tuple(sorted(found.items()))
