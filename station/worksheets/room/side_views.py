"""What is seen of a plain shape from its side: its outline and the sizes to write at it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from station.casting.shapes import Box, Frustum, Ring, TaperedBox
from station.worksheets.plain import plain
from station.worksheets.room.shape_lines import ShapeLine

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
    match line.shape:
        case Box(length, width, height):
            return Side("box", _tapering(length, length, height), f"{length:g}", f"{height:g}", depth=f"{width:g} deep")
        case Frustum(bottom, top, height):
            above = f"⌀ {top:g}" if top not in (bottom, 0) else ""
            name = "cylinder" if top == bottom else "cup" if top else "cone"
            return Side(name, _tapering(bottom, top, height), f"⌀ {bottom:g}", f"{height:g}", above)
        case TaperedBox(bottom, deep, top, top_deep, height):
            depth = f"{deep:g} deep, top {top_deep:g}"
            return Side("tapered box", _tapering(bottom, top, height), f"{bottom:g}", f"{height:g}", f"{top:g}", depth)
        case Ring(middle, section):
            return Side(
                "ring",
                _lying(middle, section),
                f"⌀ {middle + section:g}",
                f"{section:g}",
                depth=f"⌀ {middle:g} mid to mid",
            )
        case shape:
            edge = shape.volume_cm3 ** (1 / 3) * 10
            return Side("volume", _tapering(edge, edge, edge), f"{plain(edge, 3)}", "", depth="as a cube")


def _tapering(bottom: float, top: float, height: float) -> tuple[tuple[float, float], ...]:
    return ((-bottom / 2, 0.0), (bottom / 2, 0.0), (top / 2, height), (-top / 2, height))


def _lying(middle: float, section: float) -> tuple[tuple[float, float], ...]:
    """A ring on the bench: straight above and below, round at both ends."""
    r = section / 2
    turn = [math.pi * (at / _ROUND - 0.5) for at in range(_ROUND + 1)]
    right = [(middle / 2 + r * math.cos(a), r + r * math.sin(a)) for a in turn]
    return (*right, *((-x, y) for x, y in reversed(right)))
