"""A chart of figures cast after cast: a line with dots, limits, what somebody allows, and marks that need no colour."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum
from typing import Final

from station.drawing.marks import Anchor, Box, Dot, Drawing, Ink, Label, Line, Mark, Path
from station.drawing.plot import Axis
from station.insight.words import signed

WIDTH: Final = 360.0
"""Narrow, so that its letters are legible on a phone."""
_HEIGHT, _LEFT, _RIGHT, _TOP, _BOTTOM = 214.0, 54.0, 350.0, 26.0, 178.0
_CLOSE: Final = 80
"""More casts than this are drawn with smaller dots."""
_NAMED: Final = 6
"""So many casts are named below the axis."""


class Shape(Enum):
    """How a cast stands out: a large dot with its number, or a square."""

    LARGE = "large"
    SQUARE = "square"


@dataclass(frozen=True, slots=True)
class Series:
    """`values` of the casts `numbers`, in their order, one at least. `low` and `high`: limits for each cast, or none.

    `allowed`: from where to where somebody allows, either None. `marked`: by place. `from_zero`: the axis begins there.
    """

    title: str
    spoken: str
    unit: str
    across: str
    numbers: Sequence[int]
    values: Sequence[float]
    middle: float | None = None
    low: Sequence[float] = ()
    high: Sequence[float] = ()
    allowed: tuple[float | None, float | None] = (None, None)
    marked: Mapping[int, Shape] = field(default_factory=dict)
    from_zero: bool = False


def series_chart(series: Series) -> Drawing:
    """The chart."""
    upward = _upward(series)

    def y(value: float) -> float:
        return _BOTTOM - upward.part(value) * (_BOTTOM - _TOP)

    xs = _places(len(series.values))
    marks: list[Mark] = []
    if series.allowed != (None, None):
        low, high = series.allowed
        top, bottom = y(upward.high if high is None else high), y(upward.low if low is None else low)
        marks.append(Box(_LEFT, top, _RIGHT - _LEFT, bottom - top, Ink.BAND))
    marks.append(Box(_LEFT, _TOP, _RIGHT - _LEFT, _BOTTOM - _TOP, Ink.FAINT))
    for tick in upward.ticks():
        marks.append(Line(_LEFT - 4, y(tick), _LEFT, y(tick), Ink.FAINT))
        marks.append(Label(_LEFT - 7, y(tick) + 4, signed(tick, ".6g"), Anchor.END))
    if series.middle is not None:
        marks.append(Line(_LEFT, y(series.middle), _RIGHT, y(series.middle), Ink.FAINT))
    for limits in (series.low, series.high):
        if limits:
            points = [(x, y(value)) for x, value in zip(xs, limits, strict=True)]
            # Limits go on to both edges, so that they are seen where few casts stand.
            marks.append(Path(((_LEFT, points[0][1]), *points, (_RIGHT, points[-1][1])), Ink.DASHED))
    marks.append(Path(tuple((x, y(value)) for x, value in zip(xs, series.values, strict=True)), Ink.OUTLINE))
    for place, (x, value) in enumerate(zip(xs, series.values, strict=True)):
        marks += _dot(series, place, x, y(value))
    marks += [Label(xs[at], _BOTTOM + 16, str(series.numbers[at]), Anchor.MIDDLE) for at in _named(len(xs))]
    marks.append(Label(_RIGHT, _HEIGHT - 5, series.across, Anchor.END))
    marks.append(Label(4, 15, f"{series.title}, {series.unit}", size=13))
    return Drawing(series.title, series.spoken, WIDTH, _HEIGHT, tuple(marks))


def _dot(series: Series, place: int, x: float, y: float) -> list[Mark]:
    match series.marked.get(place):
        case Shape.LARGE:
            above = y > _TOP + 22
            name = Label(
                min(x, _RIGHT - 12), y - 9 if above else y + 20, str(series.numbers[place]), Anchor.MIDDLE, 12, True
            )
            return [Dot(x, y, 6), name]
        case Shape.SQUARE:
            return [Box(x - 4, y - 4, 8, 8, Ink.OUTLINE), Dot(x, y, 2)]
        case None:
            return [Dot(x, y, 3 if len(series.values) <= _CLOSE else 1.8)]


def _upward(series: Series) -> Axis:
    every = [*series.values, *series.low, *series.high, *(one for one in series.allowed if one is not None)]
    every += [] if series.middle is None else [series.middle]
    low, high = min(every), max(every)
    room = (high - low) * 0.06 or abs(high) * 0.05 or 1.0
    return Axis(series.unit, 0.0 if series.from_zero and low >= 0 else low - room, high + room)


def _places(count: int) -> list[float]:
    wide = _RIGHT - _LEFT - 20
    return [_LEFT + 10 + wide * (place / (count - 1) if count > 1 else 0.5) for place in range(count)]


def _named(count: int) -> list[int]:
    """Which casts are named below the axis: the first, the last, and some between them."""
    parts = min(_NAMED, count) - 1
    return sorted({round(part * (count - 1) / parts) for part in range(parts + 1)}) if parts > 0 else [0]
