"""A mold box as plan and section, to a scale that fits a sheet of paper."""

from __future__ import annotations

from dataclasses import dataclass

from station.casting.boards import inches
from station.casting.moldbox import Plan
from station.drawing.dimensions import along, inside, upright
from station.drawing.marks import Box, Drawing, Ink, Label, Line, Mark
from station.worksheets.plain import plain

WIDTH = 420.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 24.0, 112.0, 46.0, 52.0
"""Room around the box for dimensions, in units."""
PAPER_MM = (190.0, 277.0)
"""A4 with margins."""
SCALES = (1, 2, 5, 10, 20)


@dataclass(frozen=True, slots=True)
class _Sheet:
    """Where real millimetres come to lie: `per_mm` units each, at a scale of 1:`scale` on paper."""

    scale: int
    per_mm: float
    height: float

    @property
    def mm_per_unit(self) -> float:
        """Millimetres on paper of one unit."""
        return 1 / (self.scale * self.per_mm)

    def x(self, mm: float) -> float:
        """Across, from the outer left edge."""
        return _LEFT + mm * self.per_mm

    def y(self, mm: float) -> float:
        """Down, from the outer upper edge."""
        return _TOP + mm * self.per_mm


def _sheet(across: float, down: float) -> _Sheet:
    per_mm = (WIDTH - _LEFT - _RIGHT) / across
    height = _TOP + _BOTTOM + down * per_mm
    paper = ((scale, WIDTH / per_mm / scale, height / per_mm / scale) for scale in SCALES)
    scale = next((s for s, wide, high in paper if wide <= PAPER_MM[0] and high <= PAPER_MM[1]), SCALES[-1])
    return _Sheet(scale, per_mm, height)


def _both(mm: float) -> str:
    return f"{plain(mm, 4)} mm"


def plan_view(made: Plan, thick: float) -> Drawing:
    """From above: long boards overlapping the short ones, the positive inside."""
    length, width, _ = made.inner
    sheet = _sheet(length + 2 * thick, width + 2 * thick)
    x, y, per = sheet.x, sheet.y, sheet.per_mm
    side = made.walls.side
    marks: list[Mark] = [
        Box(x(0), y(0), (length + 2 * thick) * per, thick * per, Ink.SHADE),
        Box(x(0), y(thick + width), (length + 2 * thick) * per, thick * per, Ink.SHADE),
        Box(x(0), y(thick), thick * per, width * per, Ink.SHADE),
        Box(x(thick + length), y(thick), thick * per, width * per, Ink.SHADE),
        Box(x(thick), y(thick), length * per, width * per, Ink.OUTLINE),
        Box(x(thick + side), y(thick + side), made.extents[0] * per, made.extents[1] * per, Ink.HATCH),
        *along(x(thick), x(thick + length), _TOP - 10, f"inside {_both(length)} = {inches(length)}", size=13),
        *upright(
            x(2 * thick + length) + 10, y(thick), y(thick + width), "inside", _both(width), inches(width), size=13
        ),
        *along(
            x(thick + side),
            x(thick + side + made.extents[0]),
            sheet.height - 34,
            f"positive {_both(made.extents[0])}",
            size=13,
        ),
        Label(_LEFT, sheet.height - 6, f"from above, {_scale_words(sheet)}", size=12),
    ]
    spoken = (
        f"From above: inside {_both(length)} by {_both(width)}, boards {_both(thick)} thick, the positive "
        f"{_both(made.extents[0])} by {_both(made.extents[1])} with {_both(side)} around it."
    )
    return Drawing("The box from above", spoken, WIDTH, sheet.height, tuple(marks), sheet.mm_per_unit)


def section(made: Plan, thick: float, rim: float, parting: float | None) -> Drawing:
    """From the side, cut open along its length: level, positive, spouts, parting line."""
    length, _, level = made.inner
    down = rim + level + thick
    sheet = _sheet(length + 2 * thick, down)
    x, y, per = sheet.x, sheet.y, sheet.per_mm
    walls, long, high = made.walls, made.extents[0], made.extents[2]
    top = rim + walls.above
    marks: list[Mark] = [
        Box(x(thick), y(rim), length * per, level * per, Ink.BAND),
        Box(x(0), y(0), thick * per, (rim + level) * per, Ink.SHADE),
        Box(x(thick + length), y(0), thick * per, (rim + level) * per, Ink.SHADE),
        Box(x(0), y(rim + level), (length + 2 * thick) * per, thick * per, Ink.SHADE),
        Box(x(thick + walls.side), y(top), long * per, high * per, Ink.HATCH),
        Line(x(thick), y(rim), x(thick + length), y(rim), Ink.MARK),
        Label(x(thick) + 4, y(rim) - 4, f"fill to {_both(level)}", size=13, bold=True),
    ]
    for number in range(made.spouts.count):
        middle = thick + walls.side + long * (number + 1) / (made.spouts.count + 1)
        wide = made.spouts.diameter
        marks.append(Box(x(middle - wide / 2), y(rim), wide * per, walls.above * per, Ink.DOTS))
    if parting is not None:
        at = y(top + high - parting)
        marks += [Line(x(0), at, x(2 * thick + length), at, Ink.DASHED), Label(x(0) + 2, at - 4, "parting", size=12)]
    edge = x(2 * thick + length) + 10
    marks += [
        *upright(edge, y(rim), y(rim + level), "level", _both(level), inches(level), size=13),
        *along(x(thick), x(thick + length), sheet.height - 34, f"inside {_both(length)}", size=13),
        inside(
            x(thick + walls.side + long / 2),
            y(top + high / 2) + 5,
            f"positive, {_both(high)} high",
            WIDTH,
            size=13,
            bold=True,
        ),
        Label(_LEFT, sheet.height - 6, f"cut along its length, {_scale_words(sheet)}", size=12),
    ]
    spoken = (
        f"Cut along its length: {_both(walls.below)} below the positive, {_both(high)} of it, "
        f"{_both(walls.above)} above it, filled to {_both(level)}; boards "
        f"{_both(thick)} thick stand {_both(rim)} higher."
    )
    return Drawing("The box cut open", spoken, WIDTH, sheet.height, tuple(marks), sheet.mm_per_unit)


def _scale_words(sheet: _Sheet) -> str:
    return f"1:{sheet.scale} when printed to scale"
