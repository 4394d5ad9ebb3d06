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
from station.texts import number, t, tc, tn

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
            raise Refused(t("No zero return was read."), t("Take the load off and read the empty pan."))
        for value in self.shown_g:
            finite(t("zero return"), value)


@dataclass(frozen=True, slots=True)
class Placements:
    """What the same load shows each time it is put on, with zero set before."""

    shown_g: tuple[float, ...]

    def __post_init__(self) -> None:
        if len(self.shown_g) < FEWEST_PLACEMENTS:
            raise Refused(
                tn(
                    "{n} placement was read; at least {fewest} are needed.",
                    "{n} placements were read; at least {fewest} are needed.",
                    len(self.shown_g),
                    fewest=FEWEST_PLACEMENTS,
                ),
                t("Put the same load on {times} times and read each.", times=PLACEMENTS),
            )
        for value in self.shown_g:
            above_zero(t("reading of a placement"), value)
        if max(self.shown_g) > 1.1 * min(self.shown_g):
            raise Refused(
                t(
                    "The placements read from {least} g to {most} g; that is not one load.",
                    least=number(min(self.shown_g)),
                    most=number(max(self.shown_g)),
                ),
                t("Put the same load on each time, and read when the display rests."),
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
        name = t("reading of the {nominal_g} g check weight", nominal_g=number(self.weight.nominal_g))
        if not self.shown_g:
            raise Refused(t("No {reading} was given.", reading=name), t("Put it on and read the display."))
        finite(t("reading of the empty pan"), self.zero_g)
        for value in self.shown_g:
            if not 0.5 < above_zero(name, value) / self.weight.nominal_g < 1.5:
                raise Refused(
                    t(
                        "The {name} is {value} g; that is another weight, or another unit.",
                        name=name,
                        value=number(value),
                    ),
                    t("Read it again."),
                )
        if self.turned_after_g is not None:
            not_below_zero(t("mass added to turn the display"), self.turned_after_g)


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
        above_zero(t("corner load"), self.load_g)
        for place, value in self.places():
            if not 0.5 < above_zero(t("reading at the {place}", place=place), value) / self.load_g < 1.5:
                raise Refused(
                    t(
                        "The reading at the {place} is {value} g with {load_g} g on.",
                        place=place,
                        value=number(value),
                        load_g=number(self.load_g),
                    ),
                    t("Read it again."),
                )

    def places(self) -> tuple[tuple[str, float], ...]:
        """Each place by name, with what the display showed there."""
        return (
            (tc("place on the pan", "centre"), self.centre_g),
            (tc("place on the pan", "front"), self.front_g),
            (tc("place on the pan", "back"), self.back_g),
            (tc("place on the pan", "left"), self.left_g),
            (tc("place on the pan", "right"), self.right_g),
        )


@dataclass(frozen=True, slots=True)
class DriftSeries:
    """A load left alone: times in seconds and what the display showed in grams."""

    points: tuple[tuple[float, float], ...]

    def __post_init__(self) -> None:
        if len(self.points) < 3:
            raise Refused(
                tn("{n} reading does not show drift.", "{n} readings do not show drift.", len(self.points)),
                t("Read the load left alone over ten minutes."),
            )
        for time_s, value in self.points:
            finite(t("time of a drift reading"), time_s)
            finite(t("drift reading"), value)
        if any(late[0] <= early[0] for early, late in pairwise(self.points)):
            raise Refused(
                t("The times of the drift readings do not run forward."), t("Enter them in the order they came.")
            )


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
        above_zero(t("verification interval e"), self.e_g)
