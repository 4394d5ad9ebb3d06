"""A positive: the part that is copied, as its mesh tells it. Lengths in mm, area in cm², volume in cm³.

Most mesh files state no unit, so the one that is assumed stands beside the numbers with its reason, and a person
is asked. Scaling a volume by its cube: geometry.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import Enum

from station.casting.written_mm import length
from station.errors import Refused
from station.texts import N_, number, t

Three = tuple[float, float, float]
"""Along x (to the right), y (away from who looks) and z (up)."""

SHORTEST_MM = 15.0
"""A positive whose longest side would be shorter was hardly drawn in millimetres. Common practice, no source."""
MOST_SCALE = 1000.0
MOST_BYTES = 50 * 1024 * 1024
"""Of a mesh file: a million facets as binary STL."""
_MM3_PER_CM3 = 1000.0
_MM2_PER_CM2 = 100.0


class Unit(Enum):
    """A unit that a mesh may be drawn in; the value is what people type."""

    MM = "mm"
    CM = "cm"
    IN = "in"
    M = "m"


NAMES: dict[Unit, str] = {
    Unit.MM: N_("millimetres"),
    Unit.CM: N_("centimetres"),
    Unit.IN: N_("inches"),
    Unit.M: N_("metres"),
}
"""What follows "drawn in"."""
MILLIMETRES: dict[Unit, float] = {Unit.MM: 1.0, Unit.CM: 10.0, Unit.IN: 25.4, Unit.M: 1000.0}
"""Exact by definition (inch: NIST SP 811 (2008), Appendix B)."""


@dataclass(frozen=True, slots=True)
class Leak:
    """A hole in the surface: the middle of its rim, how long the rim is, and of how many open edges it consists.

    `at_mm` counts from the middle of the positive's bounding box.
    """

    at_mm: Three
    rim_mm: float
    edges: int


@dataclass(frozen=True, slots=True)
class Positive:
    """What is known of a positive. `volume_cm3` is None while the surface does not close or contradicts itself.

    `area_cm2` is None after uneven stretching, which it does not survive. `inverted` and `turned` tell of a surface
    that was inside out, as a whole or in so many facets, and was turned. `leaks` holds the longest few of `leaking`
    holes. `sure_of_unit` when the file states its unit or a person did.
    """

    extents_mm: Three
    volume_cm3: float | None
    area_cm2: float | None
    facets: int
    bodies: int
    closed: bool
    consistent: bool
    unit: Unit
    unit_why: str
    sure_of_unit: bool
    hollows: int = 0
    inverted: bool = False
    turned: int = 0
    leaks: tuple[Leak, ...] = ()
    leaking: int = 0
    open_edges: int = 0
    kind: str = ""
    notes: tuple[str, ...] = ()
    scale: Three = (1.0, 1.0, 1.0)
    mirrored: bool = False

    @property
    def longest_mm(self) -> float:
        """The longest side of the bounding box."""
        return max(self.extents_mm)


@dataclass(frozen=True, slots=True)
class Survey:
    """A measured positive and a picture of it (PNG): front, side and top to one scale."""

    positive: Positive
    picture: bytes


def guessed(longest: float) -> tuple[Unit, str]:
    """The unit to assume for a mesh whose longest side is `longest` in its own unit, and why."""
    if longest >= SHORTEST_MM:
        return Unit.MM, t("The file states no unit. Millimetres are assumed, as most programs write them.")
    if longest * MILLIMETRES[Unit.IN] >= SHORTEST_MM:
        return (
            Unit.IN,
            t(
                "The file states no unit. Inches are assumed: in millimetres it would be {longest} long.",
                longest=length(longest),
            ),
        )
    return (
        Unit.M,
        t(
            "The file states no unit. Metres are assumed: even in inches it would be {longest} long.",
            longest=length(25.4 * longest),
        ),
    )


def read_as(positive: Positive, unit: Unit) -> Positive:
    """The same file, read in the unit that a person says it is drawn in."""
    factor = MILLIMETRES[unit] / MILLIMETRES[positive.unit]
    grown = _grown(positive, (factor, factor, factor))
    return replace(grown, unit=unit, unit_why=t("Read in {unit}, as you said.", unit=t(NAMES[unit])), sure_of_unit=True)


def scaled(positive: Positive, by: Three) -> Positive:
    """Made larger or smaller along x, y and z. Raises Refused when a factor makes no sense.

    The volume follows the product of the three, so the cube of an even scale.
    """
    for factor in by:
        if not (math.isfinite(factor) and 1 / MOST_SCALE <= factor <= MOST_SCALE):
            raise Refused(
                t("{factor} is no scale.", factor=number(factor)),
                t(
                    "Give a factor from {least} to {most}.",
                    least=number(1 / MOST_SCALE),
                    most=number(MOST_SCALE),
                ),
            )
    x, y, z = (one * more for one, more in zip(positive.scale, by, strict=True))
    return replace(_grown(positive, by), scale=(x, y, z))


def growth(shrinkage_percent: float) -> float:
    """The factor that makes up for a linear shrinkage: 1 / (1 − s). Raises Refused from 50 % on and below −50 %."""
    if not -50 < shrinkage_percent < 50:
        raise Refused(
            t("{shrinkage_percent} % is no shrinkage.", shrinkage_percent=number(shrinkage_percent)),
            t("Castables shrink by a few per cent at most."),
        )
    return 1 / (1 - shrinkage_percent / 100)


def mirrored(positive: Positive) -> Positive:
    """The other of a left and a right: x turns its sign, so sizes, area and volume stay."""
    leaks = tuple(replace(leak, at_mm=(-leak.at_mm[0], *leak.at_mm[1:])) for leak in positive.leaks)
    return replace(positive, leaks=leaks, mirrored=not positive.mirrored)


def _grown(positive: Positive, by: Three) -> Positive:
    even = max(by) - min(by) <= 1e-12 * max(by)
    x, y, z = by
    rim = (x * y * z) ** (1 / 3)
    return replace(
        positive,
        extents_mm=_times(positive.extents_mm, by),
        volume_cm3=None if positive.volume_cm3 is None else positive.volume_cm3 * x * y * z,
        area_cm2=positive.area_cm2 * x * x if even and positive.area_cm2 is not None else None,
        leaks=tuple(replace(leak, at_mm=_times(leak.at_mm, by), rim_mm=leak.rim_mm * rim) for leak in positive.leaks),
    )


def _times(lengths: Three, by: Three) -> Three:
    return lengths[0] * by[0], lengths[1] * by[1], lengths[2] * by[2]


def from_file_units(positive: Positive, stated_mm: float | None) -> Positive:
    """A positive whose numbers are still in the file's own unit (area and volume in its square and cube), in ours.

    `stated_mm` is that unit in mm when the file states it; otherwise one is assumed.
    """
    if stated_mm is None:
        unit, why = guessed(positive.longest_mm)
        factor, sure = MILLIMETRES[unit], False
    else:
        unit, why, factor, sure = Unit.MM, t("The file states its unit."), stated_mm, True
    own = replace(
        positive,
        volume_cm3=None if positive.volume_cm3 is None else positive.volume_cm3 / _MM3_PER_CM3,
        area_cm2=None if positive.area_cm2 is None else positive.area_cm2 / _MM2_PER_CM2,
    )
    return replace(_grown(own, (factor, factor, factor)), unit=unit, unit_why=why, sure_of_unit=sure)
