"""Plain shapes of cavities, boxes and positives: volume and surface from sizes taken with a ruler.

Sizes in mm, volumes in cm³, surfaces in cm². Formulas: elementary solid geometry;
the prismoidal rule for a pyramid frustum with any two rectangles.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from station.errors import Refused
from station.texts import number, t

LARGEST_MM = 10_000.0
"""No mold of a bench is longer than ten metres; a larger size is a slip of the unit."""

_CM3 = 1000.0
_CM2 = 100.0


class Shape(Protocol):
    """Something with a volume and a surface."""

    @property
    def volume_cm3(self) -> float: ...

    @property
    def surface_cm2(self) -> float: ...


def _sized(name: str, mm: float, *, zero: bool = False) -> None:
    """Refuses a size that nothing has. `zero` lets it come to a point."""
    if not math.isfinite(mm) or mm < 0 or (mm == 0 and not zero):
        raise Refused(
            t("The {name} is {mm} mm.", name=name, mm=number(mm)),
            t("It must be zero or more.") if zero else t("It must be above zero."),
        )
    if mm > LARGEST_MM:
        raise Refused(
            t(
                "The {name} is {mm} mm, more than {largest_mm} mm.",
                name=name,
                mm=number(mm),
                largest_mm=number(LARGEST_MM),
            ),
            t("Look at its unit."),
        )


@dataclass(frozen=True, slots=True)
class Box:
    """A box with right angles. Raises Refused for a size that nothing has."""

    length_mm: float
    width_mm: float
    height_mm: float

    def __post_init__(self) -> None:
        _sized(t("length"), self.length_mm)
        _sized(t("width"), self.width_mm)
        _sized(t("height"), self.height_mm)

    @property
    def volume_cm3(self) -> float:
        """Length x width x height."""
        return self.length_mm * self.width_mm * self.height_mm / _CM3

    @property
    def surface_cm2(self) -> float:
        """All six faces."""
        a, b, c = self.length_mm, self.width_mm, self.height_mm
        return 2 * (a * b + b * c + c * a) / _CM2


@dataclass(frozen=True, slots=True)
class Frustum:
    """A round cup or cone: two diameters, either may be zero (a cone) and both may be equal (a cylinder)."""

    bottom_mm: float
    top_mm: float
    height_mm: float

    def __post_init__(self) -> None:
        _sized(t("bottom diameter"), self.bottom_mm, zero=self.top_mm > 0)
        _sized(t("top diameter"), self.top_mm, zero=True)
        _sized(t("height"), self.height_mm)

    @property
    def volume_cm3(self) -> float:
        """pi h (D² + D d + d²) / 12."""
        d, e = self.bottom_mm, self.top_mm
        return math.pi * self.height_mm * (d * d + d * e + e * e) / 12 / _CM3

    @property
    def surface_cm2(self) -> float:
        """Both ends and the slanting side."""
        d, e = self.bottom_mm / 2, self.top_mm / 2
        return math.pi * (d * d + e * e + (d + e) * math.hypot(self.height_mm, d - e)) / _CM2


def cylinder(diameter_mm: float, height_mm: float) -> Frustum:
    """A cylinder: pi d² h / 4. Raises Refused."""
    return Frustum(diameter_mm, diameter_mm, height_mm)


@dataclass(frozen=True, slots=True)
class TaperedBox:
    """A box with draft: two rectangles, one centred above the other. The top may be a ridge or a point (zero)."""

    bottom_length_mm: float
    bottom_width_mm: float
    top_length_mm: float
    top_width_mm: float
    height_mm: float

    def __post_init__(self) -> None:
        _sized(t("bottom length"), self.bottom_length_mm)
        _sized(t("bottom width"), self.bottom_width_mm)
        _sized(t("top length"), self.top_length_mm, zero=True)
        _sized(t("top width"), self.top_width_mm, zero=True)
        _sized(t("height"), self.height_mm)

    @property
    def volume_cm3(self) -> float:
        """Prismoidal rule: h/6 (bottom + top + 4 x middle); exact also where the rectangles are not alike."""
        a, b, c, d = self.bottom_length_mm, self.bottom_width_mm, self.top_length_mm, self.top_width_mm
        return self.height_mm * (a * b + c * d + (a + c) * (b + d)) / 6 / _CM3

    @property
    def surface_cm2(self) -> float:
        """Both rectangles and four slanting sides."""
        a, b, c, d, h = (
            self.bottom_length_mm,
            self.bottom_width_mm,
            self.top_length_mm,
            self.top_width_mm,
            self.height_mm,
        )
        sides = (a + c) * math.hypot(h, (b - d) / 2) + (b + d) * math.hypot(h, (a - c) / 2)
        return (a * b + c * d + sides) / _CM2


@dataclass(frozen=True, slots=True)
class Ring:
    """A round ring (gasket, grip): diameter from middle to middle of its round section, and the section's diameter."""

    middle_mm: float
    section_mm: float

    def __post_init__(self) -> None:
        _sized(t("diameter of the ring"), self.middle_mm)
        _sized(t("diameter of the section"), self.section_mm)
        if self.section_mm > self.middle_mm:
            raise Refused(
                t(
                    "A ring of {middle_mm} mm from middle to middle cannot be {section_mm} mm thick.",
                    middle_mm=number(self.middle_mm),
                    section_mm=number(self.section_mm),
                ),
                t("Measure its outside and take the thickness off once."),
            )

    @property
    def volume_cm3(self) -> float:
        """2 pi² R r² = pi² D d² / 4 (Pappus)."""
        return math.pi**2 * self.middle_mm * self.section_mm**2 / 4 / _CM3

    @property
    def surface_cm2(self) -> float:
        """4 pi² R r = pi² D d (Pappus)."""
        return math.pi**2 * self.middle_mm * self.section_mm / _CM2


def together_cm3(added: Sequence[Shape], removed: Sequence[Shape] = ()) -> float:
    """Volume of shapes that do not overlap, less those cut out of them, in cm³. Raises Refused when nothing is left.

    Only volumes add up; the surface of what is put together depends on where the shapes touch.
    """
    there = math.fsum(shape.volume_cm3 for shape in added)
    gone = math.fsum(shape.volume_cm3 for shape in removed)
    if gone >= there:
        raise Refused(
            t("{gone} cm³ are taken away from {there} cm³.", gone=number(gone, ".4g"), there=number(there, ".4g")),
            t("Nothing is left; look at the sizes and their units."),
        )
    return there - gone
