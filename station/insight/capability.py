"""Capability: how well the spread of a figure fits between the limits that somebody set for it, with intervals."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist
from typing import Final

from station.errors import Refused
from station.insight.spread import LEVEL, Interval, spread
from station.texts import N_, t

FEWEST: Final = 5
"""Fewer figures give no capability: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Tolerance:
    """What a figure shall be: at least `low`, at most `high`, in its unit; None where there is no such limit."""

    low: float | None = None
    high: float | None = None

    def __post_init__(self) -> None:
        if self.low is not None and self.high is not None and not self.low < self.high:
            raise Refused(t(N_("The lowest allowed figure must lie below the highest.")), t(N_("Exchange the two.")))

    @property
    def any(self) -> bool:
        """Whether there is a limit at all."""
        return self.low is not None or self.high is not None

    def holds(self, value: float) -> bool:
        """Whether a figure keeps to it."""
        return (self.low is None or value >= self.low) and (self.high is None or value <= self.high)


@dataclass(frozen=True, slots=True)
class Capability:
    """Of `n` figures, `outside` of which break the limits. `cp` only with both limits. Each with its interval.

    Reckoned with the standard deviation of all figures; where nobody has shown that the process stands still,
    ISO 22514 calls such figures Pp and Ppk (from memory).
    """

    n: int
    outside: int
    cp: float | None
    cp_within: Interval | None
    cpk: float
    cpk_within: Interval


def capability(values: Sequence[float], limits: Tolerance, level: float = LEVEL) -> Capability | None:
    """Cp and Cpk of some figures; None of fewer than `FEWEST`, of equal ones, and without limits.

    Cp = (high - low) / 6s, Cpk = least distance of the mean from a limit / 3s (NIST/SEMATECH e-Handbook 6.1.6). The
    interval of Cp is by chi-square, exact for normal figures; of Cpk the approximation ± z sqrt(1/(9n) + Cpk²/(2(n-1)))
    (Bissell 1990; NIST/SEMATECH 6.1.6).
    """
    found = spread(values)
    if found is None or found.n < FEWEST or not limits.any or found.sd <= 1e-12 * abs(found.mean):
        return None
    n, sides = found.n, []
    if limits.low is not None:
        sides.append((found.mean - limits.low) / (3 * found.sd))
    if limits.high is not None:
        sides.append((limits.high - found.mean) / (3 * found.sd))
    cpk = min(sides)
    half = NormalDist().inv_cdf((1 + level) / 2) * math.sqrt(1 / (9 * n) + cpk**2 / (2 * (n - 1)))
    cp = None if len(sides) < 2 else sum(sides) / 2
    return Capability(
        n=n,
        outside=sum(not limits.holds(value) for value in values),
        cp=cp,
        cp_within=None if cp is None else _cp_within(cp, n, level),
        cpk=cpk,
        cpk_within=Interval(cpk - half, cpk + half),
    )


def _cp_within(cp: float, n: int, level: float) -> Interval:
    from scipy.special import chdtri

    freedom, tail = n - 1, (1 - level) / 2
    # chdtri asks for the upper tail.
    return Interval(
        cp * math.sqrt(float(chdtri(freedom, 1 - tail)) / freedom),
        cp * math.sqrt(float(chdtri(freedom, tail)) / freedom),
    )
