"""A drawing as a value: marks with a meaning, in its own units, x to the right and y downward."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Ink(Enum):
    """What a mark stands for. Each looks different also without colour: by line, pattern or weight."""

    OUTLINE = "outline"
    """An edge of the thing itself: a full line."""
    FAINT = "faint"
    """Axes, grids, dimension lines: a thin line."""
    DASHED = "dashed"
    """A limit or a hidden edge: a dashed line."""
    FILL = "fill"
    """What is poured, or time of work: a full area, or a heavy line."""
    HATCH = "hatch"
    """A second kind of area: slanted lines."""
    DOTS = "dots"
    """A third kind of area: dots."""
    BAND = "band"
    """A range or an allowed zone: a pale area."""
    SHADE = "shade"
    """Closed hours, walls, boards: a grey area."""
    MARK = "mark"
    """The person's own value on a curve: the heaviest."""


class Anchor(Enum):
    """Where a label holds on to its point."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True)
class Line:
    """A line from one point to another."""

    x1: float
    y1: float
    x2: float
    y2: float
    ink: Ink = Ink.OUTLINE


@dataclass(frozen=True, slots=True)
class Path:
    """A line through points; `closed` makes it an area."""

    points: tuple[tuple[float, float], ...]
    ink: Ink = Ink.OUTLINE
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle by its upper left corner. OUTLINE, FAINT and DASHED draw its edge, the other inks its area too."""

    x: float
    y: float
    width: float
    height: float
    ink: Ink = Ink.OUTLINE


@dataclass(frozen=True, slots=True)
class Dot:
    """A dot of radius `r`."""

    x: float
    y: float
    r: float = 4.0
    ink: Ink = Ink.MARK


@dataclass(frozen=True, slots=True)
class Label:
    """A short text; `y` is its base line, `size` its height in the drawing's units; `turned` reads upward."""

    x: float
    y: float
    text: str
    anchor: Anchor = Anchor.START
    size: float = 12.0
    bold: bool = False
    turned: bool = False


Mark = Line | Path | Box | Dot | Label


@dataclass(frozen=True, slots=True)
class Drawing:
    """Marks in a field of `width` × `height` units.

    `spoken` says in words all that it shows. `mm_per_unit` is given when it is to scale on paper.
    """

    title: str
    spoken: str
    width: float
    height: float
    marks: tuple[Mark, ...]
    mm_per_unit: float | None = None
