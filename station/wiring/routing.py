"""The way of each wire from the header to the parts' board: level, upright, level, and no two ever meet.

Sources and targets come in the same order from above, so that they can be joined without a crossing: of wires that go
down the lower turns first, of wires that go up the upper. Units are those of the drawing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from station.wiring.header import ROWS, HeaderPin
from station.wiring.plan import Wire

Point = tuple[float, float]

ODD_X, EVEN_X, PITCH, TOP = 150.0, 190.0, 34.0, 132.0
PIN_R = 11.0
BOTTOM = TOP + (ROWS - 1) * PITCH
LANES_X, LANE = 300.0, 14.0
BOARD_X = 480.0
"""Where the board begins: wires end here."""


@dataclass(frozen=True, slots=True)
class Run:
    """One wire and the points that it runs through."""

    wire: Wire
    points: tuple[Point, ...]


def place_of(pin: HeaderPin) -> Point:
    """The middle of a pin."""
    return (ODD_X if pin.odd else EVEN_X), TOP + pin.row * PITCH


def leaves(pin: HeaderPin) -> tuple[Point, ...]:
    """How a wire comes away from its pin: to the right of an even one, below an odd one between the even ones."""
    x, y = place_of(pin)
    return ((x, y + PIN_R), (x, y + PITCH / 2)) if pin.odd else ((x + PIN_R, y),)


def runs(wires: Sequence[Wire], heights: Sequence[float]) -> tuple[Run, ...]:
    """Each wire to its height at the board's edge; both in the order from above."""
    found = []
    for at, (wire, height) in enumerate(zip(wires, heights, strict=True)):
        begin = leaves(wire.pin)
        level = begin[-1][1]
        turn = LANES_X + LANE * (at if height < level else len(wires) - 1 - at)
        found.append(Run(wire, (*begin, (turn, level), (turn, height), (BOARD_X, height))))
    return tuple(found)
