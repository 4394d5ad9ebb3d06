"""A part inside the larger pattern that it shrinks from, with the sizes of both."""

from __future__ import annotations

from dataclasses import dataclass

from station.casting.sizes import Scaling
from station.drawing.dimensions import along, upright, wide
from station.drawing.marks import Box, Drawing, Ink, Label, Mark
from station.texts import decimal, number, t

WIDTH = 420.0
_MIDDLE, _WIDEST, _TALLEST = 210.0, 264.0, 150.0
_BAR = 34.0
"""How thick a part is drawn of which only one size is told."""
_SEEN = 0.05
"""The greatest difference is drawn at least as such a share of the largest size."""
EACH = 100.0
"""The size that stands for all when none is told."""


Sizes = tuple[float | None, float | None, float | None]
"""Wanted length, width and height in mm; None where it is not told."""


@dataclass(frozen=True, slots=True)
class _Size:
    """One size in mm, of the part as wanted and of the pattern to make."""

    name: str
    part: float
    pattern: float

    def drawn(self, times: int) -> float:
        """What the pattern's size is drawn as, in mm, its difference to the part `times` as large."""
        return self.part + times * (self.pattern - self.part)


@dataclass(frozen=True, slots=True)
class _View:
    """What is seen from one side; `upward` is None where only one size is told."""

    name: str
    across: _Size
    upward: _Size | None = None


def part_in_pattern(scaling: Scaling, sizes: Sizes) -> Drawing:
    """Seen from above and from the side, as far as sizes are told; with none told, for 100 mm.

    All is drawn to one scale. A difference too small to see is drawn so many times larger, and the drawing says so.
    """
    told = _told(scaling, sizes)
    views = _views(told)
    largest = max(max(size.part, size.pattern) for size in told)
    times = _times(told, largest)
    per_mm = min(
        _WIDEST / max(max(view.across.part, view.across.drawn(times)) for view in views),
        *(_TALLEST / max(view.upward.part, view.upward.drawn(times)) for view in views if view.upward),
        _WIDEST,
    )
    marks: list[Mark] = []
    y = 4.0
    for view in views:
        shown, y = _shown(view, y, per_mm, times)
        marks += shown
    part = t("part as wanted")
    beside = max(170, 58 + wide(part, 13))
    marks += [
        Box(10, y, 22, 13, Ink.BAND),
        Box(10, y, 22, 13, Ink.OUTLINE),
        Label(38, y + 11, part, size=13),
        Box(beside, y, 22, 13, Ink.DASHED),
        Label(beside + 28, y + 11, t("pattern to make"), size=13),
    ]
    y += 32
    notes = [] if any(sizes) else [t("for every {each} mm of the part", each=number(EACH))]
    notes += [] if times == 1 else [t("the difference is drawn {times} times as large as it is", times=times)]
    for note in notes:
        marks.append(Label(10, y, note, size=13))
        y += 18
    said = "; ".join(
        t(
            "{name} {part} on the part, {pattern} on the pattern",
            name=size.name,
            part=_mm(size.part),
            pattern=_mm(size.pattern),
        )
        for size in told
    )
    return Drawing(
        t("Part and pattern, sizes in mm"),
        f"{'. '.join(text[0].upper() + text[1:] for text in (said, *notes))}.",
        WIDTH,
        y - 6,
        tuple(marks),
    )


def _told(scaling: Scaling, sizes: Sizes) -> tuple[_Size, ...]:
    names = (t("length"), t("width"), t("height"))
    factors = dict(zip(names, zip(sizes, (scaling.x, scaling.y, scaling.z), strict=True), strict=True))
    if not any(sizes):
        return tuple(_Size(name, EACH, EACH * factor) for name, (_, factor) in factors.items())
    return tuple(_Size(name, mm, mm * factor) for name, (mm, factor) in factors.items() if mm is not None)


def _views(told: tuple[_Size, ...]) -> tuple[_View, ...]:
    match told:
        case (length, width, height) if (width.part, width.pattern) == (height.part, height.pattern):
            return (_View(t("from above and from the side"), length, width),)
        case (length, width, height):
            return (_View(t("from above"), length, width), _View(t("from the side"), length, height))
        case (first, second):
            return (_View(t("{first} and {second}", first=first.name, second=second.name), first, second),)
        case _:
            return (_View(told[0].name, told[0]),)


def _times(told: tuple[_Size, ...], largest: float) -> int:
    """How many times larger than it is the difference must be drawn to be seen; 1 where it is seen as it is.

    The least of 1, 2, 5, 10, … that shows the greatest difference.
    """
    greatest = max(abs(size.pattern - size.part) for size in told)
    if greatest < 1e-9:
        return 1
    wanted = _SEEN * largest / greatest
    steps = [m * 10**p for p in range(7) for m in (1, 2, 5)]
    return next((step for step in steps if step >= wanted), 1)


def _shown(view: _View, y: float, per_mm: float, times: int) -> tuple[list[Mark], float]:
    """The view from `y` downward, and where the next may begin. The pattern's sizes above and right, the part's below
    and left."""
    across, upward = view.across, view.upward
    part_w, pattern_w = across.part * per_mm, across.drawn(times) * per_mm
    part_h = upward.part * per_mm if upward else _BAR
    pattern_h = upward.drawn(times) * per_mm if upward else _BAR + abs(pattern_w - part_w)
    wide, tall = max(part_w, pattern_w), max(part_h, pattern_h)
    middle = y + 50 + tall / 2

    def centred(width: float, height: float, ink: Ink) -> Box:
        return Box(_MIDDLE - width / 2, middle - height / 2, width, height, ink)

    top, bottom = middle - tall / 2, middle + tall / 2
    marks: list[Mark] = [
        Label(10, y + 14, view.name, size=13, bold=True),
        centred(part_w, part_h, Ink.BAND),
        centred(part_w, part_h, Ink.OUTLINE),
        centred(pattern_w, pattern_h, Ink.DASHED),
        *along(
            _MIDDLE - pattern_w / 2,
            _MIDDLE + pattern_w / 2,
            top - 10,
            t("pattern {mm}", mm=number(across.pattern, ".2f")),
        ),
        *along(
            _MIDDLE - part_w / 2, _MIDDLE + part_w / 2, bottom + 10, t("part {mm}", mm=number(across.part)), below=True
        ),
    ]
    if upward:
        right, left = _MIDDLE + wide / 2 + 10, _MIDDLE - wide / 2 - 10
        marks += upright(
            right, middle - pattern_h / 2, middle + pattern_h / 2, t("pattern"), number(upward.pattern, ".2f")
        )
        marks += upright(left, middle - part_h / 2, middle + part_h / 2, t("part"), number(upward.part), left=True)
    return marks, bottom + 44


def _mm(mm: float) -> str:
    return decimal(f"{mm:.2f}".rstrip("0").rstrip(".") + " mm")
