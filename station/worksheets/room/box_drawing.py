"""A mold box as plan and section, to a scale that fits a sheet of paper."""

from __future__ import annotations

import math

from station.casting.boards import inches
from station.casting.moldbox import Plan, Spouts
from station.drawing.dimensions import along, upright
from station.drawing.marks import Box, Drawing, Ink, Label, Line, Mark, Path
from station.texts import t, tn
from station.worksheets.plain import plain
from station.worksheets.room.paper import TOP, WIDTH, Sheet, sheet_for

_SIZE, _SMALL = 13.0, 12.0
_CORNERS = 24
"""Of a spout seen from above."""


def plan_view(made: Plan, thick: float) -> Drawing:
    """From above: long boards overlapping the short ones, the positive inside, spouts on it."""
    length, width, _ = made.inner
    long, wide, side = made.extents[0], made.extents[1], made.walls.side
    told = _dots(made)
    sheet = sheet_for(length + 2 * thick, width + 2 * thick, 2 + len(told))
    x, y, per = sheet.x, sheet.y, sheet.per_mm
    marks: list[Mark] = [
        Box(x(0), y(0), (length + 2 * thick) * per, thick * per, Ink.SHADE),
        Box(x(0), y(thick + width), (length + 2 * thick) * per, thick * per, Ink.SHADE),
        Box(x(0), y(thick), thick * per, width * per, Ink.SHADE),
        Box(x(thick + length), y(thick), thick * per, width * per, Ink.SHADE),
        *(Line(x(at), y(thick), x(at), y(thick + width), Ink.FAINT) for at in (0, length + 2 * thick)),
        *(Line(x(0), y(at), x(length + 2 * thick), y(at), Ink.FAINT) for at in (thick, thick + width)),
        Box(x(thick), y(thick), length * per, width * per),
        Box(x(thick + side), y(thick + side), long * per, wide * per, Ink.HATCH),
    ]
    marks += [
        _circle(x(thick + side + at), y(thick + width / 2), made.spouts.diameter / 2 * per) for at in _spouts(made)
    ]
    marks += [
        *along(x(thick), x(thick + length), TOP - 10, t("inside {length}", length=_both(length)), size=_SIZE),
        *upright(
            x(2 * thick + length) + 10, y(thick), y(thick + width), t("inside"), _mm(width), inches(width), size=_SIZE
        ),
        *along(
            x(thick + side),
            x(thick + side + long),
            sheet.below + 26,
            t("positive {length}", length=_mm(long)),
            size=_SIZE,
        ),
        *_captions(
            sheet,
            t("from above, 1:{scale} when printed to scale", scale=sheet.scale),
            t("hatched: positive, {width} wide", width=_both(wide)),
            *told,
        ),
    ]
    spoken = [
        t(
            "From above: inside {length} by {width}, boards {thick} thick, the positive {long} by {wide} with {side} "
            "around it.",
            length=_both(length),
            width=_both(width),
            thick=_mm(thick),
            long=_mm(long),
            wide=_mm(wide),
            side=_mm(side),
        ),
        *_spouts_said(made),
        t("The long sides run past the ends of the short ones."),
        t("Printed, it is at 1 to {scale}.", scale=sheet.scale),
    ]
    return Drawing(t("The box from above"), " ".join(spoken), WIDTH, sheet.height, tuple(marks), sheet.mm_per_unit)


def section(made: Plan, thick: float, rim: float, parting: float | None) -> Drawing:
    """From the side, cut open along its length: level, positive, spouts, parting line."""
    length, _, level = made.inner
    walls, long, high = made.walls, made.extents[0], made.extents[2]
    told = _dots(made)
    if parting is not None:
        told += (t("dashed: parting line {height} above its bottom", height=_both(parting)),)
    sheet = sheet_for(length + 2 * thick, rim + level + thick, 2 + len(told))
    x, y, per = sheet.x, sheet.y, sheet.per_mm
    top = rim + walls.above
    marks: list[Mark] = [
        Box(x(thick), y(rim), length * per, level * per, Ink.BAND),
        Box(x(0), y(0), thick * per, (rim + level) * per, Ink.SHADE),
        Box(x(thick + length), y(0), thick * per, (rim + level) * per, Ink.SHADE),
        Box(x(0), y(rim + level), (length + 2 * thick) * per, thick * per, Ink.SHADE),
        Line(x(0), y(rim + level), x(length + 2 * thick), y(rim + level), Ink.FAINT),
        Box(x(thick + walls.side), y(top), long * per, high * per, Ink.HATCH),
    ]
    wide = made.spouts.diameter
    marks += [
        Box(x(thick + walls.side + at - wide / 2), y(rim), wide * per, walls.above * per, Ink.DOTS)
        for at in _spouts(made)
    ]
    marks += [Line(x(thick), y(rim), x(thick + length), y(rim), Ink.MARK)]
    if parting is not None:
        at = y(top + high - parting)
        marks.append(Line(x(0), at, x(2 * thick + length), at, Ink.DASHED))
    marks += [
        *upright(
            x(2 * thick + length) + 10, y(rim), y(rim + level), t("fill to"), _mm(level), inches(level), size=_SIZE
        ),
        *along(x(thick), x(thick + length), sheet.below + 26, t("inside {length}", length=_both(length)), size=_SIZE),
        *_captions(
            sheet,
            t("cut along its length, 1:{scale} when printed to scale", scale=sheet.scale),
            t("hatched: positive, {height} high", height=_both(high)),
            *told,
        ),
    ]
    spoken = [
        t(
            "Cut along its length: {below} below the positive, {high} of it, {above} above it, filled to {level} over "
            "the floor; boards {thick} thick stand {rim} higher.",
            below=_mm(walls.below),
            high=_mm(high),
            above=_mm(walls.above),
            level=_both(level),
            thick=_mm(thick),
            rim=_mm(rim),
        ),
        *_spouts_said(made),
    ]
    if parting is not None:
        spoken.append(t("The parting line is {height} above the positive's bottom.", height=_both(parting)))
    spoken.append(t("Printed, it is at 1 to {scale}.", scale=sheet.scale))
    return Drawing(t("The box cut open"), " ".join(spoken), WIDTH, sheet.height, tuple(marks), sheet.mm_per_unit)


def _spouts(made: Plan) -> tuple[float, ...]:
    """Where spouts stand along the positive, mm: spread evenly, no more than stand in one row."""
    long = made.extents[0]
    count = _in_a_row(made.spouts, long)
    return tuple(long * (number + 0.5) / count for number in range(count))


def _in_a_row(spouts: Spouts, long: float) -> int:
    return min(spouts.count, max(1, math.floor(long / spouts.diameter)))


def _spouts_said(made: Plan) -> tuple[str, ...]:
    if not made.spouts.count:
        return ()
    across = _mm(made.spouts.diameter)
    return (
        tn(
            "On it stands {n} spout, {across} across.",
            "On it stand {n} spouts, {across} across.",
            made.spouts.count,
            across=across,
        ),
    )


def _dots(made: Plan) -> tuple[str, ...]:
    if not made.spouts.count:
        return ()
    count, drawn = made.spouts.count, _in_a_row(made.spouts, made.extents[0])
    across = _both(made.spouts.diameter)
    if drawn < count:
        return (t("dots: {drawn} of {count} spouts drawn, {across} across", drawn=drawn, count=count, across=across),)
    return (tn("dots: {n} spout, {across} across", "dots: {n} spouts, {across} across", count, across=across),)


def _circle(x: float, y: float, r: float) -> Path:
    turns = (2 * math.pi * number / _CORNERS for number in range(_CORNERS))
    return Path(tuple((x + r * math.cos(turn), y + r * math.sin(turn)) for turn in turns), Ink.DOTS, closed=True)


def _captions(sheet: Sheet, *lines: str) -> tuple[Label, ...]:
    return tuple(Label(6, sheet.caption(number), line, size=_SMALL) for number, line in enumerate(lines))


def _mm(mm: float) -> str:
    return f"{plain(mm, 4)} mm"


def _both(mm: float) -> str:
    return f"{_mm(mm)} ≈ {inches(mm)}"
