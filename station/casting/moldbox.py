"""The box around a positive: its inner size, and the silicone it takes.

All lengths in mm, volumes in cm³. Walls of 12.7 mm (1/2 in) over the top and all sides are common practice, no source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from station.errors import Refused
from station.texts import N_, number, t

USUAL_WALL_MM = 12.7
"""1/2 in: common practice, no source."""
MOST_SPOUTS = 100
ROUNDING = 1e-6
"""Part by which sizes converted from inches may miss each other."""


@dataclass(frozen=True, slots=True)
class Walls:
    """Silicone around the positive in mm: at its sides, below it and above it."""

    side: float = USUAL_WALL_MM
    below: float = USUAL_WALL_MM
    above: float = USUAL_WALL_MM

    def __post_init__(self) -> None:
        for said, value in (
            (N_("A wall of {value} mm at the sides is none."), self.side),
            (N_("A wall of {value} mm below is none."), self.below),
            (N_("A wall of {value} mm above is none."), self.above),
        ):
            if not (math.isfinite(value) and value >= 0):
                raise Refused(t(said, value=number(value)), t("Give it as zero or more, such as 12.7 mm."))


@dataclass(frozen=True, slots=True)
class Spouts:
    """Round spouts from the positive to the top of the silicone: how many, and their diameter in mm."""

    count: int = 0
    diameter: float = 12.0

    def __post_init__(self) -> None:
        if self.count < 0 or not (math.isfinite(self.diameter) and self.diameter > 0):
            raise Refused(
                t("A spout needs a diameter above zero and a whole count."), t("Give 0 spouts if there are none.")
            )
        if self.count > MOST_SPOUTS:
            raise Refused(
                t("{count} spouts and vents are too many.", count=self.count),
                t("Give {most_spouts} at most.", most_spouts=MOST_SPOUTS),
            )

    def volume(self, high: float) -> float:
        """Volume in cm³ of all spouts `high` mm high: count × π/4 × diameter² × height."""
        return self.count * math.pi / 4 * self.diameter**2 * high / 1000


@dataclass(frozen=True, slots=True)
class Plan:
    """A box planned. `extents` are length, width and height of the positive; `positive` its volume, None unknown."""

    extents: tuple[float, float, float]
    positive: float | None
    walls: Walls = Walls()
    spouts: Spouts = Spouts()
    overfill_percent: float = 0.0

    def __post_init__(self) -> None:
        if not all(math.isfinite(size) and size > 0 for size in self.extents):
            raise Refused(t("A positive has a length, a width and a height above zero."), t("Measure it over all."))
        if not (math.isfinite(self.overfill_percent) and 0 <= self.overfill_percent <= 100):
            raise Refused(
                t("{overfill_percent} % more silicone is no margin.", overfill_percent=number(self.overfill_percent)),
                t("Give between 0 % and 100 %."),
            )
        if self.positive is not None:
            if not (math.isfinite(self.positive) and self.positive > 0):
                raise Refused(t("The volume of the positive is not above zero."), t("Leave it empty if it is unknown."))
            most = math.prod(self.extents) / 1000
            if self.positive > most * (1 + ROUNDING):
                raise Refused(
                    t(
                        "A positive of {positive} cm³ is larger than the {most} cm³ around its own length, "
                        "width and height.",
                        positive=number(self.positive),
                        most=number(most, ".4g"),
                    ),
                    t("Check the unit of the volume and of the lengths."),
                )
        across = min(self.extents[:2])
        if self.spouts.count and self.spouts.diameter > across * (1 + ROUNDING):
            raise Refused(
                t(
                    "A spout of {diameter} mm is wider than the positive ({across} mm).",
                    diameter=number(self.spouts.diameter),
                    across=number(across),
                ),
                t("Make the spout narrower."),
            )
        footprint = self.spouts.count * math.pi / 4 * self.spouts.diameter**2
        if footprint > self.extents[0] * self.extents[1]:
            raise Refused(
                t(
                    "{count} spouts of {diameter} mm do not stand on this positive.",
                    count=self.spouts.count,
                    diameter=number(self.spouts.diameter),
                ),
                t("Take fewer, or narrower ones."),
            )

    @property
    def inner(self) -> tuple[float, float, float]:
        """Inner length, width and fill height in mm: the positive with the walls on both its ends."""
        long, wide, high = self.extents
        side = 2 * self.walls.side
        return (long + side, wide + side, high + self.walls.below + self.walls.above)

    @property
    def box(self) -> float:
        """Volume inside up to the fill height, cm³."""
        return math.prod(self.inner) / 1000

    @property
    def wetted(self) -> float:
        """Inside of the box that silicone touches, cm²: the floor, and the walls up to the fill height."""
        long, wide, high = self.inner
        return (long * wide + 2 * (long + wide) * high) / 100

    @property
    def spout_volume(self) -> float:
        """What the spouts keep free, cm³: they reach from the positive through the silicone above it."""
        return self.spouts.volume(self.walls.above)

    @property
    def silicone(self) -> float:
        """Silicone in the box, cm³: box − positive − spouts. With the positive unknown, an upper bound."""
        left = self.box - (self.positive or 0.0) - self.spout_volume
        if left <= 0:
            raise Refused(t("No room for silicone is left in the box."), t("Give the walls more, or check the volume."))
        return left

    @property
    def to_mix(self) -> float:
        """Silicone with the margin for overfill, cm³."""
        return self.silicone * (1 + self.overfill_percent / 100)
