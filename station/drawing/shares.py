"""Shares as bars that lie: each share with its interval, and numbers of defects, the most frequent first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from station.drawing.dimensions import LETTER
from station.drawing.marks import Anchor, Box, Dot, Drawing, Ink, Label, Line, Mark

WIDTH: Final = 360.0
_LEFT, _RIGHT, _ROW = 8.0, 352.0, 42.0
_SIZE: Final = 13.0


@dataclass(frozen=True, slots=True)
class ShareRow:
    """One share, 0…1, with the interval from `low` to `high`; `name` on the left, `said` on the right above the bar."""

    name: str
    said: str
    share: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class CountRow:
    """One count; `said` stands on the right."""

    name: str
    said: str
    count: int


def share_chart(title: str, spoken: str, rows: Sequence[ShareRow]) -> Drawing:
    """Each share a dot on an axis from none to all, its interval a bar behind it."""
    high = len(rows) * _ROW + 22
    marks: list[Mark] = []
    for at, row in enumerate(rows):
        y = at * _ROW + 30
        marks += _named(row.name, row.said, y - 13)
        marks.append(Line(_x(0), y, _x(1), y, Ink.FAINT))
        marks.append(Box(_x(row.low), y - 5, _x(row.high) - _x(row.low), 10, Ink.BAND))
        marks += [Line(_x(end), y - 7, _x(end), y + 7, Ink.OUTLINE) for end in (row.low, row.high)]
        marks.append(Dot(_x(row.share), y, 5))
    for part in (0.0, 0.5, 1.0):
        anchor = Anchor.START if part == 0 else Anchor.END if part == 1 else Anchor.MIDDLE
        marks.append(Label(_x(part), high - 4, f"{part * 100:.0f} %", anchor))
    return Drawing(title, spoken, WIDTH, high, tuple(marks))


def count_chart(title: str, spoken: str, rows: Sequence[CountRow]) -> Drawing:
    """Each count a bar as long as it is."""
    most = max((row.count for row in rows), default=1)
    marks: list[Mark] = []
    for at, row in enumerate(rows):
        y = at * _ROW + 30
        marks += _named(row.name, row.said, y - 13)
        marks.append(Box(_x(0), y - 7, (_x(1) - _x(0)) * row.count / most, 14, Ink.FILL))
    return Drawing(title, spoken, WIDTH, len(rows) * _ROW + 6, tuple(marks))


def _named(name: str, said: str, y: float) -> tuple[Label, Label]:
    """The two ends of a row's line; a name that would run into what is said on the right is cut."""
    room = int((_RIGHT - _LEFT - LETTER * _SIZE * (len(said) + 1)) / (LETTER * _SIZE))
    shown = name if len(name) <= room else name[: max(1, room - 1)] + "…"
    return Label(_LEFT, y, shown, size=_SIZE), Label(_RIGHT, y, said, Anchor.END, _SIZE)


def _x(share: float) -> float:
    return _LEFT + 4 + share * (_RIGHT - _LEFT - 8)
