"""Dimension lines as on a workshop drawing, and where a label goes so that it stays inside."""

from __future__ import annotations

from station.drawing.marks import Anchor, Ink, Label, Line, Mark

_STROKE = 4.0
LETTER = 0.6
"""Width of a letter as a share of its height: on the wide side of plain letters."""


def wide(text: str, size: float) -> float:
    """About how wide a text becomes, in the drawing's units."""
    return LETTER * size * len(text)


def along(x1: float, x2: float, y: float, text: str, *, below: bool = False, size: float = 12.0) -> tuple[Mark, ...]:
    """A level dimension line at height `y`, a slanted stroke at each end, its text above or below."""
    end = min(_STROKE, abs(x2 - x1) / 2)
    return (
        Line(x1, y, x2, y, Ink.FAINT),
        *(Line(x - end, y + end, x + end, y - end, Ink.FAINT) for x in (x1, x2)),
        Label((x1 + x2) / 2, y + size + 3 if below else y - 5, text, Anchor.MIDDLE, size),
    )


def upright(x: float, y1: float, y2: float, *texts: str, left: bool = False, size: float = 12.0) -> tuple[Mark, ...]:
    """An upright dimension line at `x`; its texts stand beside it, one below the other, and read level."""
    middle = (y1 + y2) / 2 + size / 3 - (len(texts) - 1) * (size + 2) / 2
    side = (x - 7, Anchor.END) if left else (x + 7, Anchor.START)
    end = min(_STROKE, abs(y2 - y1) / 2)
    return (
        Line(x, y1, x, y2, Ink.FAINT),
        *(Line(x - end, y + end, x + end, y - end, Ink.FAINT) for y in (y1, y2)),
        *(Label(side[0], middle + at * (size + 2), text, side[1], size) for at, text in enumerate(texts)),
    )


def inside(x: float, y: float, text: str, width: float, *, size: float = 12.0, bold: bool = False) -> Label:
    """A label centred on `x`, or held at an edge of a drawing of `width` where it would stick out."""
    half = wide(text, size) / 2
    if x - half < 2:
        return Label(2, y, text, Anchor.START, size, bold)
    if x + half > width - 2:
        return Label(width - 2, y, text, Anchor.END, size, bold)
    return Label(x, y, text, Anchor.MIDDLE, size, bold)
