"""Sizes that change: shrinkage of a part, scaling of a positive, and sizes of footwear.

Lengths in mm. Shrinkage: ASTM D2566 and ISO 2577, in % of the mold's length. Footwear: sizes by last length as
common sources give them. They disagree whether a Paris point counts the last or the foot, and by how much a last is
longer than the foot (15 or 20 mm; ISO/TS 19407 says that both are met), so a size is a hint and millimetres are the
truth.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

from station.errors import Refused
from station.texts import N_, number, t

MOST_SHRINKAGE = 20.0
BARLEYCORN_MM = 25.4 / 3
"""A full UK size; half sizes are half of it."""
PARIS_POINT_MM = 20 / 3
"""A full EU size: two thirds of a centimetre."""
MONDOPOINT_GRADES_MM = (5.0, 7.5)
"""Steps in which Mondopoint sizes are made (ISO 9407, as ISO/TS 19407:2015 tells)."""
TOE_ROOM_MM = 15.0
"""How much longer than the foot a last is, where nobody says otherwise (sources: 15 or 20 mm)."""

NOT_UNIFORM = N_(
    "Real grading is not uniform: width and height grow less than length, so the true volume lies below "
    "the cube. Measure the other size where you can."
)


def shrinkage_percent(mold_mm: float, part_mm: float) -> float:
    """Linear shrinkage in % of the mold's length: 100 (mold - part) / mold (ASTM D2566). Below zero: it has grown."""
    for said, value in (
        (N_("The length of the mold is {value} mm."), mold_mm),
        (N_("The length of the part is {value} mm."), part_mm),
    ):
        if not (math.isfinite(value) and value > 0):
            raise Refused(t(said, value=number(value)), t("It must be above zero."))
    return _shrinks(100 * (mold_mm - part_mm) / mold_mm)


def _shrinks(percent: float) -> float:
    if not abs(percent) <= MOST_SHRINKAGE * (1 + 1e-9):
        raise Refused(
            t(
                "A shrinkage of {percent} % is more than a casting material has ({most_shrinkage} % at most).",
                percent=number(percent),
                most_shrinkage=number(MOST_SHRINKAGE),
            ),
            t("Give it as per cent of the length: 0.5 for half a per cent."),
        )
    return percent


def pattern_scale(percent: float) -> float:
    """How much longer the pattern must be: 1 / (1 - s), not 1 + s. Raises Refused beyond 20 %."""
    return 1 / (1 - _shrinks(percent) / 100)


def volume_shrinkage_percent(percent: float) -> float:
    """Loss of volume in %, the same shrinkage along all three: 1 - (1 - s)³, about three times as much."""
    return 100 * (1 - (1 - _shrinks(percent) / 100) ** 3)


@dataclass(frozen=True, slots=True)
class Scaling:
    """Factors along length, width and height. Raises Refused unless they are 0.01 to 100."""

    x: float
    y: float
    z: float

    def __post_init__(self) -> None:
        for factor in (self.x, self.y, self.z):
            if not 0.01 <= factor <= 100:
                raise Refused(
                    t("A scale of {factor} makes no part.", factor=number(factor)),
                    t("Give a factor such as 1.05 for 5 % larger."),
                )

    @classmethod
    def uniform(cls, factor: float) -> Scaling:
        """The same along all three."""
        return cls(factor, factor, factor)

    @property
    def volume(self) -> float:
        """Factor of the volume: x y z, the cube of a uniform one. It holds for any shape."""
        return self.x * self.y * self.z

    @property
    def area(self) -> float | None:
        """Factor of the surface: the square of a uniform one; None otherwise, as it then depends on the shape."""
        return self.x * self.x if math.isclose(self.x, self.y) and math.isclose(self.x, self.z) else None


class SizeSystem(Enum):
    """A way of counting footwear sizes."""

    PARIS = N_("Paris point (EU)")
    UK_ADULT = N_("UK adult")
    UK_CHILD = N_("UK child")
    MONDOPOINT = N_("Mondopoint")


def last_mm(system: SizeSystem, size: float, toe_room_mm: float = TOE_ROOM_MM) -> float:
    """Length of the last in mm for a size.

    EU: 2/3 cm each. UK: 3 x inches - 25 for adults and - 12 for children, the barleycorn of 1/3 inch. Mondopoint is
    the length of the foot in mm (ISO 9407); `toe_room_mm` makes a last of it. Raises Refused for a size nobody has.
    """
    match system:
        case SizeSystem.PARIS:
            return _wearable(size * PARIS_POINT_MM, system, size)
        case SizeSystem.UK_ADULT:
            return _wearable((size + 25) * BARLEYCORN_MM, system, size)
        case SizeSystem.UK_CHILD:
            return _wearable((size + 12) * BARLEYCORN_MM, system, size)
        case SizeSystem.MONDOPOINT:
            return _wearable(size + toe_room_mm, system, size)


def size_of(system: SizeSystem, last: float, toe_room_mm: float = TOE_ROOM_MM) -> float:
    """The size, not rounded, that a last of so many mm has. Raises Refused for a last that nobody's foot needs."""
    match system:
        case SizeSystem.PARIS:
            return _wearable(last) / PARIS_POINT_MM
        case SizeSystem.UK_ADULT:
            return _wearable(last) / BARLEYCORN_MM - 25
        case SizeSystem.UK_CHILD:
            return _wearable(last) / BARLEYCORN_MM - 12
        case SizeSystem.MONDOPOINT:
            return _wearable(last) - toe_room_mm


def nearest_made(foot_mm: float, grade_mm: float) -> float:
    """The Mondopoint size nearest to a foot, in steps of `grade_mm` (5 or 7.5 mm)."""
    if grade_mm not in MONDOPOINT_GRADES_MM:
        raise Refused(
            t("Mondopoint sizes are not made in steps of {grade_mm} mm.", grade_mm=number(grade_mm)),
            t("They are in steps of 5 or 7.5 mm."),
        )
    return math.floor(foot_mm / grade_mm + 0.5) * grade_mm


def grade(from_last_mm: float, to_last_mm: float) -> Scaling:
    """Scaling from one last to another as if it were uniform; see `NOT_UNIFORM`."""
    return Scaling.uniform(_wearable(to_last_mm) / _wearable(from_last_mm))


def _wearable(last: float, system: SizeSystem | None = None, size: float = 0.0) -> float:
    if not 80 <= last <= 400:
        mm = number(last, ".4g")
        raise Refused(
            t("{system} {size} would be a last of {mm} mm.", system=t(system.value), size=number(size), mm=mm)
            if system
            else t("A last of {mm} mm.", mm=mm),
            t("Lasts are 80 to 400 mm long."),
        )
    return last
