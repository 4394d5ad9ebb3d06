"""Task: what one pour is to reach, and on which scale. Grams and seconds."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Strength(Enum):
    """How bold the stop is placed: the number of standard deviations kept from the upper edge."""

    BOLD = 1.6
    EVEN = 2.0
    CAREFUL = 2.5


@dataclass(frozen=True, slots=True)
class Leading:
    """Whether pours are led by a learned pace and stop (else by a fixed lead), and how boldly."""

    on: bool = True
    strength: Strength = Strength.EVEN


@dataclass(frozen=True, slots=True)
class Task:
    """Pour `target_g` within `low_g`..`high_g`, shown by a scale of readability `d_g` and filter lag `lag_s`.

    `strength`: an overshoot of a component that others can still follow costs little, that of the last one a batch.
    """

    target_g: float
    low_g: float
    high_g: float
    d_g: float
    lag_s: float
    strength: Strength = Strength.EVEN

    @property
    def tolerance_g(self) -> float:
        """Half of the window."""
        return (self.high_g - self.low_g) / 2
