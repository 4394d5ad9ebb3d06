"""Signs of a circuit as marks: resistor, capacitor, diode, contact, transistor, ground. Units of the drawing.

The resistor is a box and the contact a slanted stroke, as in IEC 60617.
"""

from __future__ import annotations

from station.drawing.marks import Anchor, Box, Dot, Ink, Label, Line, Mark, Path
from station.texts import t
from station.wiring.header import Carries

SMALL = 12.0


def resistor(x: float, y: float, value: str) -> tuple[Mark, ...]:
    """Level, 50 long from `x`, its value above it."""
    return Box(x, y - 7, 50, 14), Label(x + 25, y - 11, value, Anchor.MIDDLE, SMALL)


def upright_resistor(x: float, y: float, value: str) -> tuple[Mark, ...]:
    """22 high from `y` downward, its value to the left."""
    return Box(x - 6, y, 12, 22), Label(x - 11, y + 15, value, Anchor.END, SMALL)


def capacitor(x: float, y: float, value: str) -> tuple[Mark, ...]:
    """From the line at `y` down to ground, its value to the right."""
    return (
        Dot(x, y, 3),
        Line(x, y, x, y + 9),
        Line(x - 11, y + 9, x + 11, y + 9),
        Line(x - 11, y + 14, x + 11, y + 14),
        *ground(x, y + 14),
        Label(x + 17, y + 20, value, Anchor.START, SMALL),
    )


def ground(x: float, y: float) -> tuple[Mark, ...]:
    """Down from `y`, 16 high: the rail for ground."""
    return Line(x, y, x, y + 8), *(Line(x - w, y + 8 + d, x + w, y + 8 + d) for w, d in ((9, 0), (6, 4), (2.5, 8)))


def rail(x: float, y: float, carries: Carries) -> tuple[Mark, ...]:
    """The end of a line at the rail for 3.3 V or 5 V."""
    return Line(x, y - 7, x, y + 7), Label(x + 6, y + 4, t(carries.value), Anchor.START, SMALL, bold=True)


def diode(x: float, y: float) -> tuple[Mark, ...]:
    """18 long from `x`; its ring, the bar, to the right."""
    return (
        Path(((x, y - 8), (x, y + 8), (x + 17, y)), closed=True),
        Line(x + 18, y - 8, x + 18, y + 8),
    )


def lit_diode(x: float, y: float) -> tuple[Mark, ...]:
    """The same, with two strokes for the light that it gives."""
    strokes = ((x + 6, y - 10, x + 13, y - 18), (x + 13, y - 9, x + 20, y - 17))
    return *diode(x, y), *(Line(*ends, Ink.FAINT) for ends in strokes)


def contact(x: float, y: float) -> tuple[Mark, ...]:
    """Normally open, 40 long from `x`."""
    return Dot(x, y, 3), Dot(x + 40, y, 3), Line(x, y, x + 36, y - 13)


def transistor(x: float, y: float) -> tuple[Mark, ...]:
    """NPN with its base at (x, y); the collector ends at (x + 16, y − 24), the emitter at (x + 16, y + 22)."""
    return (
        Line(x, y - 11, x, y + 11),
        Line(x, y - 5, x + 16, y - 15),
        Line(x + 16, y - 15, x + 16, y - 24),
        Line(x, y + 5, x + 16, y + 15),
        Path(((x + 16, y + 15), (x + 8, y + 14), (x + 12, y + 8)), Ink.MARK, closed=True),
        Line(x + 16, y + 15, x + 16, y + 22),
    )
