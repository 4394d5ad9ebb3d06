"""Shares of few casts: so many of so many, with the interval that goes with them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from station.insight.proportions import proportion
from station.insight.spread import LEVEL


@dataclass(frozen=True, slots=True)
class Share:
    """`bad` of `of` casts."""

    bad: int
    of: int

    def __post_init__(self) -> None:
        if not 0 <= self.bad <= self.of:
            raise ValueError("more bad casts than casts")

    @property
    def part(self) -> float:
        """The share, 0…1; 0 of none."""
        return self.bad / self.of if self.of else 0.0

    def interval(self, level: float = LEVEL) -> tuple[float, float]:
        """Wilson's interval; all of 0…1 for no cast."""
        if not self.of:
            return 0.0, 1.0
        low, high = proportion(self.bad, self.of, level).within
        return low, high


def apart(one: Share, other: Share, level: float = LEVEL) -> tuple[float, float, float]:
    """By how much the share of `one` is above that of `other`, and its interval.

    From the two intervals of Wilson (Newcombe 1998, Statist. Med. 17, 873, method 10).
    """
    low, high = one.interval(level)
    other_low, other_high = other.interval(level)
    by = one.part - other.part
    return (
        by,
        by - math.hypot(one.part - low, other_high - other.part),
        by + math.hypot(high - one.part, other.part - other_low),
    )
