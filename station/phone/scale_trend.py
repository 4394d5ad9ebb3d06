"""How a figure of the scale went from check to check, as a small drawing: where its dots, ticks and dates lie."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

from station.texts import decimal, tn

WIDTH, HEIGHT = 320, 160
"""The drawing's own units; the page scales it."""
_LEFT, _RIGHT, _TOP, _BOTTOM = 78.0, 308.0, 12.0, 130.0
_TICKS = 4
_MINUS = "\N{MINUS SIGN}"


@dataclass(frozen=True, slots=True)
class Tick:
    """A level of the axis at height `y`, with its grams in words."""

    y: float
    text: str
    zero: bool


@dataclass(frozen=True, slots=True)
class Trend:
    """A drawing. `lines` join the dots of checks that follow each other; `spoken` says all that it shows."""

    title: str
    spoken: str
    ticks: tuple[Tick, ...]
    dots: tuple[tuple[float, float], ...]
    lines: tuple[str, ...]
    first: str
    last: str


Point = tuple[date, float | None]
"""The day of a check, and the figure in grams; None where it was not tested."""


def grams_text(grams: float, *, signed: bool = False) -> str:
    """Grams with two figures that count, never with an exponent; `signed` writes a plus where there is one."""
    places = 0 if grams == 0 or not math.isfinite(grams) else min(6, max(0, 1 - math.floor(math.log10(abs(grams)))))
    return _written(grams, places, signed=signed)


def trend(title: str, points: Sequence[Point], *, signed: bool = False) -> Trend | None:
    """The drawing of `points`, the oldest first; None when there is no figure. The axis always contains zero."""
    known = [(on, grams) for on, grams in points if grams is not None and math.isfinite(grams)]
    if not known:
        return None
    levels, places = _levels([grams for _, grams in known])
    low, high = levels[0], levels[-1]
    first, last = known[0][0], known[-1][0]

    def height(grams: float) -> float:
        return round(_BOTTOM - (grams - low) / (high - low) * (_BOTTOM - _TOP), 1)

    def across(on: date) -> float:
        days = (last - first).days
        return round(_LEFT + 6 + ((on - first).days / days if days else 0.5) * (_RIGHT - _LEFT - 12), 1)

    ticks = tuple(Tick(height(at), _written(at, places, signed=signed), abs(at) < 1e-12) for at in levels)
    dots = tuple((across(on), height(grams)) for on, grams in known)
    return Trend(
        title,
        _spoken(title, known, signed=signed),
        ticks,
        dots,
        tuple(_lines(points, across, height)),
        first.isoformat(),
        "" if first == last else last.isoformat(),
    )


def _levels(values: Sequence[float]) -> tuple[list[float], int]:
    """Round levels from at or below the least to at or above the most, and the decimal places they need."""
    least, most = min(0.0, *values), max(0.0, *values)
    rough = (most - least or 0.1) / _TICKS
    power = math.floor(math.log10(rough))
    step = next(m * 10.0**power for m in (1, 2, 5, 10) if m * 10.0**power >= rough * 0.999)
    lowest, highest = math.floor(least / step + 1e-9), math.ceil(most / step - 1e-9)
    places = max(0, -math.floor(math.log10(step) + 1e-9))
    return [n * step for n in range(lowest, max(highest, lowest + 1) + 1)], places


def _lines(points: Sequence[Point], across: Callable[[date], float], height: Callable[[float], float]) -> list[str]:
    runs: list[list[str]] = [[]]
    for on, grams in points:
        if grams is None or not math.isfinite(grams):
            runs.append([])
        else:
            runs[-1].append(f"{across(on)},{height(grams)}")
    return [" ".join(run) for run in runs if len(run) > 1]


def _written(grams: float, places: int, *, signed: bool) -> str:
    text = f"{abs(grams):.{places}f}"
    sign = "" if not text.strip("0.") else _MINUS if grams < 0 else "+" if signed else ""
    return f"{sign}{decimal(text)} g"


def _spoken(title: str, known: Sequence[tuple[date, float]], *, signed: bool) -> str:
    words = [f"{on.isoformat()} {grams_text(grams, signed=signed)}" for on, grams in known]
    return tn(
        "{title} at {n} check, the oldest first: {results}.",
        "{title} at {n} checks, the oldest first: {results}.",
        len(known),
        title=title,
        results="; ".join(words),
    )
