"""A scale as a sketch, for drawings of how something is weighed."""

from __future__ import annotations

from station.drawing.marks import Anchor, Box, Ink, Label, Line, Mark

PAN, NECK, BODY = 7.0, 10.0, 46.0
TALL = PAN + NECK + BODY
"""From the top of the pan to the feet, in the drawing's units."""


def scale(x: float, y: float, width: float, reading: str) -> tuple[Mark, ...]:
    """A scale in the middle of `x`, the top of its pan at `y`, and what it reads."""
    half, body = width / 2, y + PAN + NECK
    return (
        Box(x - half - 6, y, width + 12, PAN),
        *(Line(side, y + PAN, side, body) for side in (x - 8, x + 8)),
        Box(x - half, body, width, BODY),
        Box(x - half + 6, body + 8, width - 12, BODY - 16, Ink.FAINT),
        Label(x, body + BODY / 2 + 6, reading, Anchor.MIDDLE, 16, bold=True),
    )
