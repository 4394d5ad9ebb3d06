"""Two rows of dots over one axis: where the values of two kinds lie, and where they are cut."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from station.drawing.marks import Anchor, Dot, Drawing, Ink, Label, Line, Mark
from station.drawing.plot import Axis
from station.texts import number

WIDTH, HEIGHT = 420.0, 150.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 14.0, 406.0, 30.0, 108.0
_R = 5.0


@dataclass(frozen=True, slots=True)
class Row:
    """Values of one kind, in the axis' unit, with the words that stand over them."""

    label: str
    values: tuple[float, ...]


def two_rows(title: str, spoken: str, across: Axis, rows: Sequence[Row], cut: float | None = None) -> Drawing:
    """The drawing. Dots that would hide each other stand on top of each other."""

    def x(value: float) -> float:
        return _LEFT + across.part(value) * (_RIGHT - _LEFT)

    marks: list[Mark] = [Line(_LEFT, _BOTTOM, _RIGHT, _BOTTOM, Ink.FAINT)]
    for value in across.ticks():
        marks += [
            Line(x(value), _BOTTOM, x(value), _BOTTOM + 5, Ink.FAINT),
            Label(x(value), _BOTTOM + 19, number(value, ".6g"), Anchor.MIDDLE, 13),
        ]
    if cut is not None:
        marks.append(Line(x(cut), _TOP - 14, x(cut), _BOTTOM, Ink.DASHED))
    for at, row in enumerate(rows):
        base = _TOP + 24 + at * 40.0
        marks.append(Label(_LEFT, base - 16, row.label, Anchor.START, 13, bold=True))
        marks += [Dot(x(value), base - up * 3.0, _R, Ink.MARK) for value, up in _stacked(row.values, x)]
    marks.append(Label(_RIGHT, HEIGHT - 6, across.label, Anchor.END, 13))
    return Drawing(title, spoken, WIDTH, HEIGHT, tuple(marks))


def _stacked(values: tuple[float, ...], x: object) -> list[tuple[float, int]]:
    """Each value with how many lie right beside it already, at most three."""
    assert callable(x)
    placed: list[tuple[float, int]] = []
    for value in sorted(values):
        beside = sum(abs(x(value) - x(other)) < _R for other, _ in placed)
        placed.append((value, min(beside, 3)))
    return placed
