"""A share of casts with the interval in which the true share probably lies, also of few casts."""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import NormalDist

from station.insight.spread import LEVEL, Interval


@dataclass(frozen=True, slots=True)
class Proportion:
    """`count` of `of` casts, with the interval of the share behind it."""

    count: int
    of: int
    within: Interval

    @property
    def share(self) -> float:
        """The share found, 0…1."""
        return self.count / self.of


def proportion(count: int, of: int, level: float = LEVEL) -> Proportion:
    """Wilson's score interval (Wilson 1927; NIST/SEMATECH e-Handbook 7.2.4.1). `of` is at least 1, 0 ≤ count ≤ of."""
    if of < 1 or not 0 <= count <= of:
        raise ValueError(f"{count} of {of} is no share")
    z = NormalDist().inv_cdf((1 + level) / 2)
    share, fine = count / of, z * z / of
    middle = (share + fine / 2) / (1 + fine)
    half = z * math.sqrt(share * (1 - share) / of + fine / (4 * of)) / (1 + fine)
    # At none and at all the end is exact, and rounding must not take it past.
    low = 0.0 if count == 0 else max(0.0, middle - half)
    high = 1.0 if count == of else min(1.0, middle + half)
    return Proportion(count, of, Interval(low, high))
