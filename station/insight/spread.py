"""How some figures lie: their mean with its interval, their standard deviation, and whether neighbours resemble."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, NamedTuple

LEVEL: Final = 0.95
"""Confidence of every interval, unless a caller says otherwise."""


class Interval(NamedTuple):
    """A confidence interval, both ends in the unit of what it is about."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Spread:
    """Of `n` figures in one unit. `sd` divides by n - 1; `lag1` is their lag-1 autocorrelation, None of equal ones."""

    n: int
    mean: float
    sd: float
    lag1: float | None
    mean_within: Interval

    @property
    def neighbours_alike(self) -> bool:
        """Whether |lag1| is beyond 2/sqrt(n), the usual 95 % band of random figures (NIST/SEMATECH 1.3.3.1)."""
        return self.lag1 is not None and abs(self.lag1) > 2 / math.sqrt(self.n)


def spread(values: Sequence[float], level: float = LEVEL) -> Spread | None:
    """The spread of at least two figures in their order; None of fewer. The mean's interval is Student's t."""
    n = len(values)
    if n < 2:
        return None
    mean = math.fsum(values) / n
    off = [value - mean for value in values]
    # The second sum takes off what rounding the mean left (Chan, Golub, LeVeque 1983).
    squares = math.fsum(one * one for one in off) - math.fsum(off) ** 2 / n
    sd = math.sqrt(max(squares, 0.0) / (n - 1))
    lag1 = math.fsum(a * b for a, b in pairwise(off)) / squares if squares > 0 else None
    half = student(n - 1, level) * sd / math.sqrt(n)
    return Spread(n, mean, sd, lag1, Interval(mean - half, mean + half))


def student(freedom: int, level: float = LEVEL) -> float:
    """The factor of Student's t for a two-sided interval."""
    from scipy.special import stdtrit

    return float(stdtrit(freedom, (1 + level) / 2))
