"""A computed quantity with its uncertainty: what each thing that went into it contributes (GUM, JCGM 100:2008)."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from station.metrology.given import finite, not_below_zero
from station.metrology.tolerance import COVERAGE
from station.texts import t


@dataclass(frozen=True, slots=True)
class Input:
    """Something that a quantity is computed from: `name` as a person calls it, `u` its standard uncertainty."""

    name: str
    value: float
    u: float = 0.0


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value and, by name, the standard uncertainty that each input gives it; all in the value's unit."""

    value: float
    parts: tuple[tuple[str, float], ...]

    @property
    def u(self) -> float:
        """Combined standard uncertainty: root of the sum of squares of independent inputs (GUM 5.1.2, eq. 10)."""
        return math.hypot(*(part for _, part in self.parts))

    def expanded(self, k: float = COVERAGE) -> float:
        """Expanded uncertainty U = k u (GUM 6.2.1)."""
        return k * self.u

    @property
    def largest(self) -> str:
        """The input that makes it the least sure."""
        return max(self.parts, key=lambda part: part[1])[0]


def estimate(of: Callable[..., float], *inputs: Input) -> Estimate:
    """`of` the inputs' values, in their order, with the part of each: |f(x + u) - f(x - u)| / 2 (GUM 5.1.3, note 2).

    The inputs are independent of each other. Raises Refused when one is not a number or its `u` is below zero.
    """
    values = [finite(one.name, one.value) for one in inputs]
    parts = []
    for at, one in enumerate(inputs):
        u = not_below_zero(t("uncertainty of the {name}", name=one.name), one.u, "")
        above, below = list(values), list(values)
        above[at] += u
        below[at] -= u
        parts.append((one.name, abs(of(*above) - of(*below)) / 2))
    return Estimate(of(*values), tuple(parts))
