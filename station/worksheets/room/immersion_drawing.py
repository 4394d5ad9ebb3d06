"""How a positive is weighed in air and under water, with each reading on the scale that shows it. A sketch."""

from __future__ import annotations

from dataclasses import dataclass

from station.drawing.dimensions import inside
from station.drawing.marks import Box, Drawing, Ink, Label, Line, Mark, Path
from station.texts import number, t
from station.worksheets.plain import plain
from station.worksheets.room.scale_drawing import TALL, scale

WIDTH = 420.0
_PAN_CUP, _PAN_HUNG = 132.0, 72.0
_CUP, _BATH = 88.0, 82.0
_BOARD = _PAN_HUNG + TALL
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


@dataclass(frozen=True, slots=True)
class _Panel:
    """One weighing: what is said of it, what the scale reads, and whether the thing is there, in water or not."""

    caption: str
    grams: float
    there: bool = True
    wet: bool = True


def held_under(weighed: Weighed) -> Drawing:
    """A cup of water on the scale; the thing is held under with a rod that nothing else carries."""
    under_g, rod_g = weighed.under_g, weighed.support_g
    panels = [_Panel(t("on the pan, dry"), weighed.air_g, wet=False), _Panel(t("held under"), under_g)]
    if rod_g:
        panels.insert(1, _Panel(t("rod alone, as deep"), rod_g, there=False))
    marks: list[Mark] = []
    for x, wide, panel in _spaced(panels):
        marks += scale(x, _PAN_CUP, wide, _grams(panel.grams))
        if not panel.wet:
            marks += _thing(x, _PAN_CUP)
        else:
            marks += _vessel(x, _PAN_CUP, _CUP, 82)
            foot = _PAN_CUP - 20
            marks.append(Line(x, 16, x, foot - (32 if panel.there else 22)))
            marks += _thing(x, foot) if panel.there else ()
        marks.append(inside(x, _PAN_CUP + TALL + 20, panel.caption, WIDTH, size=13))
    how = f"= {number(under_g)} − {_grams(rod_g)}" if rod_g else ""
    spoken = (
        t(
            "A cup of water on the scale, tared, the thing held under water in it: {under}; with the rod alone {rod}.",
            under=_grams(under_g),
            rod=_grams(rod_g),
        )
        if rod_g
        else t("A cup of water on the scale, tared, the thing held under water in it: {under}.", under=_grams(under_g))
    )
    return _finished(t("Held under in a cup on the scale (a sketch)"), spoken, marks, how, weighed)


def hung_below(weighed: Weighed) -> Drawing:
    """The scale on a board, a thread from its hook into a bath that stands on the bench; a sinker if there is one."""
    under_g, sinker_g = weighed.under_g, weighed.support_g
    dry = _Panel(t("on the pan, dry"), weighed.air_g, wet=False)
    panels = [dry, _Panel(t("under water"), under_g)]
    if sinker_g:
        panels = [
            dry,
            _Panel(t("wire and sinker"), sinker_g, there=False),
            _Panel(t("with the sinker"), under_g),
        ]
    marks: list[Mark] = []
    for x, wide, panel in _spaced(panels):
        marks += scale(x, _PAN_HUNG, wide, _grams(panel.grams))
        marks += [
            Box(x - wide / 2 - 8, _BOARD, wide / 2 + 4, 7, Ink.SHADE),
            Box(x + 4, _BOARD, wide / 2 + 4, 7, Ink.SHADE),
        ]
        if panel.wet:
            marks += _in_bath(x, panel, sinker=bool(sinker_g))
        else:
            marks += _thing(x, _PAN_HUNG)
            marks.append(inside(x, _BOARD + 24, panel.caption, WIDTH, size=13))
    sinker = f" + {number(sinker_g)}" if sinker_g else ""
    how = f"= {number(weighed.air_g)}{sinker} − {_grams(under_g)}"
    spoken = (
        t(
            "The thing hung under the scale on a thread, in a bath that stands on the bench: {under}, wire and sinker "
            "alone {sinker}.",
            under=_grams(under_g),
            sinker=_grams(sinker_g),
        )
        if sinker_g
        else t(
            "The thing hung under the scale on a thread, in a bath that stands on the bench: {under}.",
            under=_grams(under_g),
        )
    )
    return _finished(t("Hung under the scale (a sketch)"), spoken, marks, how, weighed)


def _in_bath(x: float, panel: _Panel, *, sinker: bool) -> list[Mark]:
    """The bath below the scale, the thread into it, and what hangs there."""
    floor = _BOARD + 134
    foot = floor - (26 if sinker else 18)
    marks: list[Mark] = [*_vessel(x, floor, _BATH, 92), Line(x, _BOARD, x, foot - (32 if panel.there else 0))]
    marks += _thing(x, foot) if panel.there else ()
    if sinker:
        block = (x - 9, foot + 6, 18, 14)
        marks += [Line(x, foot, x, foot + 6), Box(*block, Ink.SHADE), Box(*block, Ink.OUTLINE)]
    marks.append(inside(x, floor + 20, panel.caption, WIDTH, size=13))
    return marks


def _grams(grams: float) -> str:
    return f"{number(grams)} g"


def _spaced(panels: list[_Panel]) -> list[tuple[float, float, _Panel]]:
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
    for text in (t("water displaced: {displaced}", displaced=displaced), how):
        if text:
            marks.append(Label(10, y, text, size=13))
            y += 18
    marks.append(Label(10, y + 3, t("volume: {volume}", volume=volume), size=15, bold=True))
    said = t(
        "In air {air}. Water displaced {displaced}, volume {volume}.",
        air=_grams(weighed.air_g),
        displaced=displaced,
        volume=volume,
    )
    return Drawing(title, f"{spoken} {said}", WIDTH, y + 14, tuple(marks))
