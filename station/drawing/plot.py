"""A plot of curves over two axes, with bands, limits and the person's own point."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from station.drawing.marks import Anchor, Box, Dot, Drawing, Ink, Label, Line, Mark, Path
from station.texts import number

WIDTH, HEIGHT = 420.0, 280.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 58.0, 404.0, 34.0, 232.0
_TICKS = 5


@dataclass(frozen=True, slots=True)
class Axis:
    """What is counted, with its unit in the label; `log` for a logarithmic one (both ends above zero)."""

    label: str
    low: float
    high: float
    log: bool = False

    def __post_init__(self) -> None:
        if not self.low < self.high or (self.log and self.low <= 0):
            raise ValueError(f"an axis needs two ends in order, and above zero when logarithmic: {self}")

    def part(self, value: float) -> float:
        """Where `value` lies between the ends, 0…1, held inside them."""
        value = min(max(value, self.low), self.high)
        if self.log:
            return math.log(value / self.low) / math.log(self.high / self.low)
        return (value - self.low) / (self.high - self.low)

    def ticks(self) -> tuple[float, ...]:
        """Round values inside the ends."""
        if self.log:
            powers = range(math.floor(math.log10(self.low)), math.ceil(math.log10(self.high)) + 1)
            every = [m * 10.0**p for p in powers for m in (1, 2, 5)]
            inside = [v for v in every if self.low * 0.999 <= v <= self.high * 1.001]
            return tuple(inside if len(inside) <= _TICKS + 3 else [v for v in inside if f"{v:.0e}"[0] == "1"])
        step = _round_step((self.high - self.low) / _TICKS)
        first = math.ceil(self.low / step - 1e-9)
        return tuple(n * step for n in range(first, math.floor(self.high / step + 1e-9) + 1))


@dataclass(frozen=True, slots=True)
class Curve:
    """Points of one curve in the axes' units; `name` stands at its last point."""

    points: tuple[tuple[float, float], ...]
    name: str = ""
    ink: Ink = Ink.FILL


@dataclass(frozen=True, slots=True)
class Point:
    """One point of its own: the person's value, with a word to it."""

    x: float
    y: float
    name: str = ""


def plot(
    title: str,
    spoken: str,
    across: Axis,
    upward: Axis,
    curves: Sequence[Curve],
    *,
    points: Sequence[Point] = (),
    band: tuple[Sequence[tuple[float, float]], Sequence[tuple[float, float]]] | None = None,
) -> Drawing:
    """The plot; `band` is shaded between a lower and an upper curve."""

    def at(x: float, y: float) -> tuple[float, float]:
        return (_LEFT + across.part(x) * (_RIGHT - _LEFT), _BOTTOM - upward.part(y) * (_BOTTOM - _TOP))

    marks: list[Mark] = []
    if band is not None:
        lower, upper = band
        marks.append(Path(tuple(at(*p) for p in (*lower, *reversed(list(upper)))), Ink.BAND, closed=True))
    marks.append(Box(_LEFT, _TOP, _RIGHT - _LEFT, _BOTTOM - _TOP, Ink.FAINT))
    for value in upward.ticks():
        _, y = at(across.low, value)
        marks += [Line(_LEFT, y, _RIGHT, y, Ink.FAINT), Label(_LEFT - 6, y + 4, _tick(value), Anchor.END, 12)]
    for value in across.ticks():
        x, _ = at(value, upward.low)
        marks += [Line(x, _BOTTOM, x, _BOTTOM + 5, Ink.FAINT), Label(x, _BOTTOM + 18, _tick(value), Anchor.MIDDLE, 12)]
    for curve in curves:
        marks.append(Path(tuple(at(*p) for p in curve.points), curve.ink))
        if curve.name and curve.points:
            x, y = at(*curve.points[-1])
            marks.append(Label(x - 4, max(_TOP + 12, y - 6), curve.name, Anchor.END, 12))
    for point in points:
        x, y = at(point.x, point.y)
        marks.append(Dot(x, y, 5))
        end = x > (_LEFT + _RIGHT) / 2
        marks.append(Label(x - 9 if end else x + 9, y - 8, point.name, Anchor.END if end else Anchor.START, 13, True))
    marks.append(Label(_RIGHT, HEIGHT - 8, across.label, Anchor.END, 13))
    marks.append(Label(6, 20, upward.label, Anchor.START, 13))
    return Drawing(title, spoken, WIDTH, HEIGHT, tuple(marks))


def _round_step(rough: float) -> float:
    power = 10.0 ** math.floor(math.log10(rough))
    return next(m * power for m in (1, 2, 5, 10) if m * power >= rough * 0.999)


def _tick(value: float) -> str:
    return number(value, ".6g")
