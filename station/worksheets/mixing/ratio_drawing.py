"""Shares of a mix as bars of one length, parted like the mix."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from station.drawing.marks import Anchor, Box, Drawing, Ink, Label, Mark
from station.texts import number

WIDTH = 420.0
_LEFT, _LONG, _TALL = 10.0, 400.0, 34.0
_INKS = (Ink.FILL, Ink.HATCH, Ink.DOTS, Ink.BAND, Ink.SHADE)


def bars(title: str, rows: Sequence[tuple[str, Mapping[str, float]]], *, unit: str = "") -> Drawing:
    """One bar a row; each part has its own pattern, named below with its value (in %, or in `unit`)."""
    marks: list[Mark] = []
    said: list[str] = []
    y = 20.0
    for name, parts in rows:
        whole = sum(parts.values())
        marks.append(Label(_LEFT, y, name, size=13, bold=True))
        x = _LEFT
        for ink, share in zip(_INKS * 2, parts.values(), strict=False):
            wide = _LONG * share / whole
            marks.append(Box(x, y + 6, wide, _TALL, ink))
            x += wide
        y += _TALL + 24
        for i, (ink, (part, share)) in enumerate(zip(_INKS * 2, parts.items(), strict=False)):
            column, line = i % 2, i // 2
            value = f"{number(share, '.4g')} {unit}" if unit else f"{number(100 * share / whole, '.4g')} %"
            at_x, at_y = _LEFT + column * 205, y + line * 20
            marks += [Box(at_x, at_y - 11, 14, 14, ink), Label(at_x + 20, at_y, f"{part} {value}", Anchor.START, 13)]
            said.append(f"{part} {value}")
        y += ((len(parts) + 1) // 2) * 20 + 16
    return Drawing(title, f"{title}: {', '.join(said)}.", WIDTH, y - 10, tuple(marks))
