"""A ruler along the toe of the last: where the sizes of each system lie in millimetres, and where the person's own."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from station.casting.sizes import SizeSystem, size_of
from station.drawing.dimensions import inside, wide
from station.drawing.marks import Anchor, Drawing, Ink, Label, Line, Mark
from station.texts import number, t

WIDTH = 420.0
_LEFT, _RIGHT = 14.0, 406.0
_AROUND_MM = 16.0
"""So much of the ruler is shown before and beyond the person's sizes: two to three sizes."""
_SHORTEST, _LONGEST = 80.0, 400.0
_ROW, _NAME, _RULE = 62.0, 13.0, 40.0
_STEPS = {SizeSystem.PARIS: 1.0, SizeSystem.UK_ADULT: 0.5, SizeSystem.UK_CHILD: 0.5, SizeSystem.MONDOPOINT: 5.0}
"""From one tick to the next, in the sizes of each."""


@dataclass(frozen=True, slots=True)
class Ruler:
    """From which to which length of last in mm the drawing goes; one scale for all its rows."""

    low: float
    high: float

    @classmethod
    def around(cls, lasts: Sequence[float]) -> Ruler:
        """With some room before and beyond `lasts`."""
        return cls(max(_SHORTEST, min(lasts) - _AROUND_MM), min(_LONGEST, max(lasts) + _AROUND_MM))

    @property
    def per_mm(self) -> float:
        """The drawing's units for 1 mm."""
        return (_RIGHT - _LEFT) / (self.high - self.low)

    def x(self, mm: float) -> float:
        """Where a last of so many mm ends."""
        return _LEFT + (mm - self.low) * self.per_mm

    def sizes(self, system: SizeSystem, toe_room: float) -> Iterator[tuple[float, float]]:
        """The sizes of `system` on the ruler, and the length of last of each in mm: all systems are even scales."""
        first, last = size_of(system, self.low, toe_room), size_of(system, self.high, toe_room)
        step = _STEPS[system]
        for at in range(math.ceil(first / step - 1e-6), math.floor(last / step + 1e-6) + 1):
            yield at * step, self.low + (at * step - first) * (self.high - self.low) / (last - first)


def size_ruler(
    lasts: Sequence[tuple[str, float]], systems: Sequence[tuple[SizeSystem, float, float]], toe_room: float
) -> Drawing:
    """The person's size and the one to go to (name, last in mm) on a ruler, over a row of ticks for each system.

    `systems`: which are shown, from which size and below which they count.
    """
    own = [mm for _, mm in lasts]
    ruler = Ruler.around(own)
    marks: list[Mark] = []
    said = [t("{name}: last of {mm} mm", name=name, mm=number(mm, ".1f")) for name, mm in lasts]
    titles = [*said[:1], *(t("{size} (dashed)", size=text) for text in said[1:])]
    y = 4.0
    for (_, mm), text in zip(lasts, titles, strict=True):
        size = min(14, (WIDTH - 4) // wide(text, 1))  # words of some languages are longer
        marks.append(inside(ruler.x(mm), y + 14, text, WIDTH, size=size, bold=True))
        y += 18
    step = 1 if ruler.per_mm >= 3 else 5
    ticks = [(float(mm), float(mm)) for mm in range(math.ceil(ruler.low / step) * step, int(ruler.high) + 1, step)]
    marks += _named(t("length of last, mm"), "", y)
    marks += _ticks(ruler, ticks, _every(ruler.per_mm, (5, 10, 20, 50)), own, y + _RULE)
    for system, low, below in systems:
        y += _ROW
        values = [size_of(system, mm, toe_room) for mm in own]
        there = [pair for pair in ruler.sizes(system, toe_room) if low <= pair[0] < below]
        per_size = (_RIGHT - _LEFT) / (size_of(system, ruler.high, toe_room) - size_of(system, ruler.low, toe_room))
        wholes = (5, 10, 20, 50) if system is SizeSystem.MONDOPOINT else (1, 2, 5, 10)
        sizes = [number(one, ".2f") for one in values]
        marks += _named(t(system.value), " → ".join(sizes), y) + _ticks(
            ruler, there, _every(per_size, wholes), own, y + _RULE
        )
        from_to = sizes[0] if len(sizes) == 1 else t("{size} to {other}", size=sizes[0], other=sizes[1])
        said.append(f"{t(system.value)} {from_to}")
    return Drawing(t("Sizes on a ruler"), f"{'; '.join(said)}.", WIDTH, y + _ROW + 4, tuple(marks))


def _every(per_one: float, steps: Sequence[int]) -> int:
    """Which sizes get a number of up to three digits, so that the numbers do not touch."""
    return next((step for step in steps if step * per_one >= wide("0000", 12)), steps[-1])


def _named(name: str, value: str, y: float) -> list[Mark]:
    marks: list[Mark] = [Label(_LEFT, y + _NAME, name, size=13)]
    if value:
        marks.append(Label(_RIGHT, y + _NAME, value, Anchor.END, 13, bold=True))
    return marks


def _ticks(
    ruler: Ruler, ticks: Sequence[tuple[float, float]], every: int, own: Sequence[float], line: float
) -> list[Mark]:
    """Ticks (size, last in mm) on a level line, numbers below it, and the person's own sizes across it."""
    marks: list[Mark] = [Line(_LEFT, line, _RIGHT, line, Ink.FAINT)]
    for size, mm in ticks:
        numbered = math.isclose(size / every, round(size / every), abs_tol=1e-9)
        marks.append(Line(ruler.x(mm), line, ruler.x(mm), line - (14 if numbered else 7)))
        if numbered:
            marks.append(inside(ruler.x(mm), line + 14, number(size), WIDTH))
    for ink, mm in zip((Ink.MARK, Ink.DASHED), own, strict=False):
        marks.append(Line(ruler.x(mm), line + 2, ruler.x(mm), line - 20, ink))
    return marks
