"""Labels as PDF: the number as large as it may be, a code beside it, and lines that are cut rather than left out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import IO, Final

from reportlab.lib.colors import black
from reportlab.lib.pagesizes import A4
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from station.paper.code import Modules, draw_code
from station.paper.fonts import fonts
from station.paper.label_sizes import Size

_LEAST, _MOST = 4.5, 10.0
"""Points of the lines' letters."""
_NUMBER_PART: Final = 0.36
"""Part of a label's height that the number takes at most."""


@dataclass(frozen=True, slots=True)
class Label:
    """What one label says: a number, lines below it (the first in bold), and the modules of its code."""

    number: str
    lines: tuple[str, ...]
    code: Modules


def write_labels(label: Label, size: Size, out: IO[bytes], *, copies: int = 1, start: int = 0) -> None:
    """Write so many labels to an open file, on a sheet from place `start` on (from 0: those before it are used up)."""
    page = A4 if size.on_sheet else (size.wide * mm, size.high * mm)
    canvas = Canvas(out, pagesize=page, invariant=1)
    canvas.setTitle(fonts().legible(label.number))
    for at in range(start, start + copies):
        if at > start and at % size.places == 0:
            canvas.showPage()
        left, top = size.corner(at % size.places)
        canvas.saveState()
        canvas.translate(left * mm, page[1] - (top + size.high) * mm)
        _draw(canvas, label, size)
        canvas.restoreState()
    canvas.showPage()
    canvas.save()


def _draw(canvas: Canvas, label: Label, size: Size) -> None:
    known = fonts()
    beside, above = size.inset
    wide, high = (size.wide - 2 * beside) * mm, (size.high - 2 * above) * mm
    x, y = beside * mm, above * mm
    side = min(high, wide * 0.42)
    draw_code(canvas, label.code, x, y + (high - side) / 2, side)
    # The code's own light margin parts it from the words.
    x, width = x + side, wide - side
    points = min(high * _NUMBER_PART, 40.0)
    while points > _MOST and known.wide(label.number, points, bold=True) > width:
        points -= 0.5
    canvas.setFillColor(black)
    canvas.setFont(known.bold, points)
    top = y + high - points * 0.8
    canvas.drawString(x, top, known.cut(label.number, points, width, bold=True))
    room = top - y - points * 0.15
    letters = max(_LEAST, min(_MOST, room / max(1, len(label.lines)) / 1.25))
    for place, line in enumerate(label.lines):
        base = top - points * 0.15 - letters * (1.0 + 1.25 * place)
        if base < y - 0.5:
            break
        bold = place == 0
        size_of = max(_LEAST, min(letters, 0.99 * letters * width / max(1.0, known.wide(line, letters, bold=bold))))
        canvas.setFont(known.bold if bold else known.plain, size_of)
        canvas.drawString(x, base, known.cut(line, size_of, width, bold=bold))
