"""How a positive is weighed in air and under water, with each reading on the scale that shows it. A sketch."""

from __future__ import annotations

from dataclasses import dataclass

from station.drawing.dimensions import inside
from station.drawing.marks import Box, Drawing, Ink, Label, Line, Mark, Path
from station.worksheets.plain import plain
from station.worksheets.room.scale_drawing import TALL, scale

WIDTH = 420.0
_PAN_CUP, _PAN_HUNG = 132.0, 72.0
_CUP, _BATH = 88.0, 82.0
_THING = ((-26.0, 0.0), (-18.0, -26.0), (4.0, -34.0), (26.0, -20.0), (24.0, 0.0))
"""Around its foot's middle."""


@dataclass(frozen=True, slots=True)
class Weighed:
    """Readings in g: in air, under water, what holds it alone under water; water displaced, in g and cm³."""

    air_g: float
    under_g: float
    support_g: float
    displaced_g: float
    cm3: float


def held_under(weighed: Weighed) -> Drawing:
    """A cup of water on the scale; the thing is held under with a rod that nothing else carries."""
    under_g, rod_g = weighed.under_g, weighed.support_g
    panels = [("on the pan, dry", weighed.air_g), ("held under", under_g)]
    if rod_g:
        panels.insert(1, ("rod alone, as deep", rod_g))
    marks: list[Mark] = []
    for x, wide, (caption, grams) in _spaced(panels):
        marks += scale(x, _PAN_CUP, wide, f"{grams:g} g")
        if caption == panels[0][0]:
            marks += _thing(x, _PAN_CUP)
        else:
            marks += _vessel(x, _PAN_CUP, _CUP, 82)
            foot = _PAN_CUP - 20
            there = caption == "held under"
            marks.append(Line(x, 16, x, foot - (32 if there else 22)))
            marks += _thing(x, foot) if there else ()
        marks.append(inside(x, _PAN_CUP + TALL + 20, caption, WIDTH, size=13))
    how = f"= {under_g:g} − {rod_g:g} g" if rod_g else ""
    spoken = f"A cup of water on the scale, tared, the thing held under water in it: {under_g:g} g"
    spoken += f"; with the rod alone {rod_g:g} g" if rod_g else ""
    return _finished("Held under in a cup on the scale (a sketch)", spoken, marks, how, weighed)


def hung_below(weighed: Weighed) -> Drawing:
    """The scale on a board, a thread from its hook into a bath that stands on the bench; a sinker if there is one."""
    under_g, sinker_g = weighed.under_g, weighed.support_g
    panels = [("on the pan, dry", weighed.air_g), ("under water", under_g)]
    if sinker_g:
        panels = [panels[0], ("wire and sinker", sinker_g), ("with the sinker", under_g)]
    marks: list[Mark] = []
    floor = _PAN_HUNG + TALL + 134
    for x, wide, (caption, grams) in _spaced(panels):
        board = _PAN_HUNG + TALL
        marks += scale(x, _PAN_HUNG, wide, f"{grams:g} g")
        marks += [
            Box(x - wide / 2 - 8, board, wide / 2 + 4, 7, Ink.SHADE),
            Box(x + 4, board, wide / 2 + 4, 7, Ink.SHADE),
        ]
        if caption == panels[0][0]:
            marks += _thing(x, _PAN_HUNG)
            marks.append(inside(x, board + 24, caption, WIDTH, size=13))
            continue
        marks += _vessel(x, floor, _BATH, 92)
        foot = floor - (26 if sinker_g else 18)
        there = caption != "wire and sinker"
        marks.append(Line(x, board, x, foot - (32 if there else 0)))
        marks += _thing(x, foot) if there else ()
        if sinker_g:
            block = (x - 9, foot + 6, 18, 14)
            marks += [Line(x, foot, x, foot + 6), Box(*block, Ink.SHADE), Box(*block, Ink.OUTLINE)]
        marks.append(inside(x, floor + 20, caption, WIDTH, size=13))
    sinker = f" + {sinker_g:g}" if sinker_g else ""
    how = f"= {weighed.air_g:g}{sinker} − {under_g:g} g"
    spoken = f"The thing hung under the scale on a thread, in a bath that stands on the bench: {under_g:g} g"
    spoken += f", wire and sinker alone {sinker_g:g} g" if sinker_g else ""
    return _finished("Hung under the scale (a sketch)", spoken, marks, how, weighed)


def _spaced(panels: list[tuple[str, float]]) -> list[tuple[float, float, tuple[str, float]]]:
    """Middle of each panel, width of its scale, and the panel."""
    each = WIDTH / len(panels)
    return [((at + 0.5) * each, min(128.0, each - 30), panel) for at, panel in enumerate(panels)]


def _thing(x: float, foot: float) -> tuple[Mark, ...]:
    shape = tuple((x + dx, foot + dy) for dx, dy in _THING)
    return (Path(shape, Ink.SHADE, closed=True), Path(shape, Ink.OUTLINE, closed=True))


def _vessel(x: float, floor: float, tall: float, wide: float) -> tuple[Mark, ...]:
    """An open vessel with its floor at `floor`, water a little below the brim."""
    left, right = x - wide / 2, x + wide / 2
    brim = ((left, floor - tall), (left, floor), (right, floor), (right, floor - tall))
    return (Box(left, floor - tall + 12, wide, tall - 12, Ink.FILL), Path(brim, Ink.OUTLINE))


def _finished(title: str, spoken: str, marks: list[Mark], how: str, weighed: Weighed) -> Drawing:
    """The drawing with what the readings come to written below all else; `how` they come to the water displaced."""
    volume, displaced = f"{plain(weighed.cm3, 5)} cm³", f"{plain(weighed.displaced_g, 7)} g"
    y = max(mark.y for mark in marks if isinstance(mark, Label)) + 28
    for text in (f"water displaced: {displaced}", how):
        if text:
            marks.append(Label(10, y, text, size=13))
            y += 18
    marks.append(Label(10, y + 3, f"volume: {volume}", size=15, bold=True))
    said = f"{spoken}. In air {weighed.air_g:g} g. Water displaced {displaced}, volume {volume}."
    return Drawing(title, said, WIDTH, y + 14, tuple(marks))
