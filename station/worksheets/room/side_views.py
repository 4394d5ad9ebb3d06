"""What is seen of a plain shape from its side: its outline and the sizes to write at it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from station.casting.shapes import Box, Frustum, Ring, TaperedBox
from station.texts import number, t
from station.worksheets.plain import plain
from station.worksheets.room.shape_lines import ShapeLine
from station.worksheets.room.shape_sorts import shape_words

_ROUND = 24
"""Corners of half a circle."""


@dataclass(frozen=True, slots=True)
class Side:
    """A side view in mm: its outline around its foot's middle (y upward), and the sizes written at it."""

    name: str
    outline: tuple[tuple[float, float], ...]
    below: str
    beside: str
    above: str = ""
    depth: str = ""

    @property
    def width_mm(self) -> float:
        return 2 * max(abs(x) for x, _ in self.outline)

    @property
    def height_mm(self) -> float:
        return max(y for _, y in self.outline)


def side_of(line: ShapeLine) -> Side:
    """What is seen of a shape that stands on its bottom (a ring: lies) and is looked at from its side."""
    called = shape_words()
    match line.shape:
        case Box(length, width, height):
            depth = t("{width} deep", width=number(width))
            return Side(called["box"], _tapering(length, length, height), number(length), number(height), depth=depth)
        case Frustum(bottom, top, height):
            above = f"⌀ {number(top)}" if top not in (bottom, 0) else ""
            name = "cylinder" if top == bottom else "cup" if top else "cone"
            return Side(called[name], _tapering(bottom, top, height), f"⌀ {number(bottom)}", number(height), above)
        case TaperedBox(bottom, deep, top, top_deep, height):
            depth = t("{deep} deep, top {top}", deep=number(deep), top=number(top_deep))
            outline = _tapering(bottom, top, height)
            return Side(called["tapered box"], outline, number(bottom), number(height), number(top), depth)
        case Ring(middle, section):
            return Side(
                called["ring"],
                _lying(middle, section),
                f"⌀ {number(middle + section)}",
                number(section),
                depth=t("⌀ {middle} mid to mid", middle=number(middle)),
            )
        case shape:
            edge = shape.volume_cm3 ** (1 / 3) * 10
            return Side(called["volume"], _tapering(edge, edge, edge), plain(edge, 3), "", depth=t("as a cube"))


def _tapering(bottom: float, top: float, height: float) -> tuple[tuple[float, float], ...]:
    return ((-bottom / 2, 0.0), (bottom / 2, 0.0), (top / 2, height), (-top / 2, height))


def _lying(middle: float, section: float) -> tuple[tuple[float, float], ...]:
    """A ring on the bench: straight above and below, round at both ends."""
    r = section / 2
    turn = [math.pi * (at / _ROUND - 0.5) for at in range(_ROUND + 1)]
    right = [(middle / 2 + r * math.cos(a), r + r * math.sin(a)) for a in turn]
    return (*right, *((-x, y) for x, y in reversed(right)))
