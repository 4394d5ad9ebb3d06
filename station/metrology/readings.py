"""What is read off the display in a scale check, piece by piece, in grams and seconds.

Every piece refuses in a sentence what cannot have been read: not a number, too few, out of order.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from station.errors import Refused
from station.metrology.classes import AccuracyClass
from station.metrology.given import above_zero, finite, not_below_zero
from station.metrology.weights import CheckWeight

PLACEMENTS = 10
"""How often the same load is put on, as a rule: at least 10 weighings (USP <41>; French order of 1972, art. 10.2)."""

FEWEST_PLACEMENTS = 5
"""Fewer say too little about a standard deviation (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class ZeroReturns:
    """What the empty pan shows each time after a load was taken off, before any key is pressed."""

    shown_g: tuple[float, ...]

    def __post_init__(self) -> None:
        if not self.shown_g:
            raise Refused("No zero return was read.", "Take the load off and read the empty pan.")
        for value in self.shown_g:
            finite("zero return", value)


@dataclass(frozen=True, slots=True)
class Placements:
    """What the same load shows each time it is put on, with zero set before."""

    shown_g: tuple[float, ...]

    def __post_init__(self) -> None:
        if len(self.shown_g) < FEWEST_PLACEMENTS:
            raise Refused(
                f"{len(self.shown_g)} placements were read; at least {FEWEST_PLACEMENTS} are needed.",
                f"Put the same load on {PLACEMENTS} times and read each.",
            )
        for value in self.shown_g:
            above_zero("reading of a placement", value)
        if max(self.shown_g) > 1.1 * min(self.shown_g):
            raise Refused(
                f"The placements read from {min(self.shown_g):g} g to {max(self.shown_g):g} g; that is not one load.",
                "Put the same load on each time, and read when the display rests.",
            )


@dataclass(frozen=True, slots=True)
class WeightReading:
    """What the scale shows with a check weight on it, once or several times, and with the pan empty before.

    `turned_after_g`: mass in small weights added on top until the display just went one step up; it finds the
    reading before rounding (OIML R 76-1:2006, A.4.4.3). None when that was not done.
    """

    weight: CheckWeight
    shown_g: tuple[float, ...]
    zero_g: float = 0.0
    turned_after_g: float | None = None

    def __post_init__(self) -> None:
        name = f"reading of the {self.weight.nominal_g:g} g check weight"
        if not self.shown_g:
            raise Refused(f"No {name} was given.", "Put it on and read the display.")
        finite("reading of the empty pan", self.zero_g)
        for value in self.shown_g:
            if not 0.5 < above_zero(name, value) / self.weight.nominal_g < 1.5:
                raise Refused(f"The {name} is {value:g} g; that is another weight, or another unit.", "Read it again.")
        if self.turned_after_g is not None:
            not_below_zero("mass added to turn the display", self.turned_after_g)


@dataclass(frozen=True, slots=True)
class Corners:
    """What the same load shows in the middle and towards the four edges of the pan."""

    load_g: float
    centre_g: float
    front_g: float
    back_g: float
    left_g: float
    right_g: float

    def __post_init__(self) -> None:
        above_zero("corner load", self.load_g)
        for place, value in self.places():
            if not 0.5 < above_zero(f"reading at the {place}", value) / self.load_g < 1.5:
                raise Refused(f"The reading at the {place} is {value:g} g with {self.load_g:g} g on.", "Read it again.")

    def places(self) -> tuple[tuple[str, float], ...]:
        """Each place by name, with what the display showed there."""
        edges = (("front", self.front_g), ("back", self.back_g), ("left", self.left_g), ("right", self.right_g))
        return (("centre", self.centre_g), *edges)


@dataclass(frozen=True, slots=True)
class DriftSeries:
    """A load left alone: times in seconds and what the display showed in grams."""

    points: tuple[tuple[float, float], ...]

    def __post_init__(self) -> None:
        if len(self.points) < 3:
            raise Refused(
                f"{len(self.points)} readings do not show drift.", "Read the load left alone over ten minutes."
            )
        for time_s, value in self.points:
            finite("time of a drift reading", time_s)
            finite("drift reading", value)
        if any(late[0] <= early[0] for early, late in pairwise(self.points)):
            raise Refused("The times of the drift readings do not run forward.", "Enter them in the order they came.")


@dataclass(frozen=True, slots=True)
class Stream:
    """A stretch of what the scale sent: times in seconds, and values exactly as displayed."""

    times_s: tuple[float, ...]
    shown: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Plate:
    """Accuracy class and verification interval e, where the type plate names them."""

    accuracy_class: AccuracyClass
    e_g: float

    def __post_init__(self) -> None:
        above_zero("verification interval e", self.e_g)
