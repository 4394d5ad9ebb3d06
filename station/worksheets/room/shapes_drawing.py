"""Shapes from their side, all to one scale, with their sizes: what is added in full lines, what is cut out dashed."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from station.drawing.dimensions import along, inside, upright, wide
from station.drawing.marks import Anchor, Drawing, Ink, Label, Mark, Path
from station.texts import t, tn
from station.worksheets.plain import plain
from station.worksheets.room.shape_lines import ShapeLine
from station.worksheets.room.side_views import Side, side_of

WIDTH = 420.0
MOST = 12
"""So many shapes are drawn; more would be too small to read on a phone."""
_TALLEST, _ALL_ROWS = 150.0, 460.0
_ABOVE, _BELOW = 26.0, 90.0
_SUM = 14.0
_SMALLER = 0.94


@dataclass(frozen=True, slots=True)
class _Shown:
    """A line with its side view and what is written below it."""

    line: ShapeLine
    side: Side
    words: tuple[str, ...]

    def left(self, per_mm: float) -> float:
        """Room from its middle to the left, in the drawing's units."""
        return max(self.side.width_mm * per_mm, *(wide(text, 13) for text in self.words)) / 2 + 6

    def right(self, per_mm: float) -> float:
        """Room to the right, where its height is written."""
        beside = self.side.width_mm * per_mm / 2 + 22 + wide(self.side.beside, 12)
        return max(self.left(per_mm), beside)


def shapes_drawing(lines: Sequence[ShapeLine], total_cm3: float) -> Drawing:
    """Each line once, with how many there are of it, its volume, and the sum at the bottom."""
    shown = [_shown(line) for line in lines[:MOST]]
    per_mm, rows = _laid_out(shown)
    marks: list[Mark] = []
    foot = 0.0
    for row in rows:
        foot += _ABOVE + per_mm * max(one.side.height_mm for one in row)
        spare = (WIDTH - sum(one.left(per_mm) + one.right(per_mm) for one in row)) / (len(row) + 1)
        x = 0.0
        for one in row:
            marks += _placed(one, x + spare + one.left(per_mm), foot, per_mm)
            x += spare + one.left(per_mm) + one.right(per_mm)
        foot += _BELOW
    more = len(lines) - len(shown)
    if more:
        marks.append(Label(10, foot + 2, tn("and {n} more, not drawn", "and {n} more, not drawn", more), size=12))
        foot += 20
    said = _sum(lines, total_cm3)
    marks.append(inside(WIDTH / 2, foot + 10, said, WIDTH, size=_SUM, bold=True))
    each = "; ".join(
        t("cut out: {shapes}", shapes=line.what) if line.minus else t("added: {shapes}", shapes=line.what)
        for line in lines
    )
    title = t("From the side, to one scale, sizes in mm")
    spoken = t("{each}. Together: {sum}.", each=each, sum=said)
    return Drawing(title, spoken, WIDTH, foot + 20, tuple(marks))


def _shown(line: ShapeLine) -> _Shown:
    side = side_of(line)
    name = side.name if line.count == 1 else f"{line.count} × {side.name}"
    volume = f"{'−' if line.minus else '+'} {plain(line.volume_cm3)} cm³"
    return _Shown(line, side, (*(text for text in (name, side.depth) if text), volume))


def _laid_out(shown: Sequence[_Shown]) -> tuple[float, list[list[_Shown]]]:
    """The largest scale (units for 1 mm) at which all fit, and which stand in one row."""
    per_mm = min(
        (WIDTH - 90) / max(one.side.width_mm for one in shown), _TALLEST / max(one.side.height_mm for one in shown)
    )
    fewest = len(_rows(shown, 0.0))
    while True:
        rows = _rows(shown, per_mm)
        tall = sum(_ABOVE + _BELOW + per_mm * max(one.side.height_mm for one in row) for row in rows)
        if tall <= _ALL_ROWS or len(rows) == fewest:
            return per_mm, rows
        per_mm *= _SMALLER


def _rows(shown: Sequence[_Shown], per_mm: float) -> list[list[_Shown]]:
    """In the order as written, as many in a row as there is room for."""
    rows: list[list[_Shown]] = []
    used = WIDTH
    for one in shown:
        needs = one.left(per_mm) + one.right(per_mm)
        if used + needs > WIDTH:
            rows.append([])
            used = 0.0
        rows[-1].append(one)
        used += needs
    return rows


def _placed(shown: _Shown, x: float, foot: float, per_mm: float) -> list[Mark]:
    """One shape with its dimensions; what it is, how deep and how much stands below it."""
    side, last = shown.side, len(shown.words) - 1
    half, top = side.width_mm * per_mm / 2, foot - side.height_mm * per_mm
    outline = tuple((x + dx * per_mm, foot - dy * per_mm) for dx, dy in side.outline)
    marks: list[Mark] = [Path(outline, Ink.DASHED if shown.line.minus else Ink.OUTLINE, closed=True)]
    if side.below:
        marks += along(x - half, x + half, foot + 9, side.below, below=True)
    if side.beside:
        marks += upright(x + half + 9, foot, top, side.beside)
    if side.above:
        marks.append(Label(x, top - 6, side.above, Anchor.MIDDLE, 12))
    for at, text in enumerate(shown.words):
        marks.append(Label(x, foot + 42 + 16 * at, text, Anchor.MIDDLE, 12 + (at == last), bold=at == last))
    return marks


def _sum(lines: Sequence[ShapeLine], total_cm3: float) -> str:
    """The sum with its terms, or with what is added and what is cut out when the terms are too many for a line."""
    added = [line for line in lines if not line.minus]
    cut = [line for line in lines if line.minus]
    terms = " + ".join(plain(line.volume_cm3) for line in added)
    terms += "".join(f" − {plain(line.volume_cm3)}" for line in cut)
    if len(lines) == 1:
        return f"{plain(total_cm3)} cm³"
    if wide(terms, _SUM) > WIDTH - 130:
        terms = f"{plain(math.fsum(line.volume_cm3 for line in added))}"
        if not cut:
            return t("{added} added = {total} cm³", added=terms, total=plain(total_cm3))
        terms += f" − {plain(math.fsum(line.volume_cm3 for line in cut))}"
    return f"{terms} = {plain(total_cm3)} cm³"
