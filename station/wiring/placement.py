"""Where things stand at the bench, from the side and not to scale: what drips, splashes, dusts or is trodden on."""

from __future__ import annotations

from collections.abc import Sequence

from station.drawing.marks import Box, Dot, Drawing, Ink, Label, Line, Mark, Path
from station.texts import N_, t

WIDTH, HEIGHT, MM = 1188.0, 840.0, 0.25
"""A4 lying, at four units to a millimetre."""
_FLOOR, _BENCH, _WALL = 740.0, 500.0, 1110.0

NOTES = (
    N_("The Pi in a closed case without a fan, on the wall, away from where you mix: vapour and dust stay out."),
    N_("Cables come in from below and hang in a loop first: what runs along them drips off."),
    N_("Lamps and buzzer where you see and hear them while you pour, above splashes."),
    N_("The pedal flat on a dry floor, its cable in a sleeve along the wall, never across the way."),
    N_("The big button at the front edge, where an elbow finds it and a cup cannot stand on it."),
    N_("The scale level and out of the draught; its cable free, so that it pulls at nothing."),
    N_("The power supply's socket high on the wall, off the floor and away from the mixing side."),
)


def placed() -> Drawing:
    """The drawing."""
    notes = [t(note) for note in NOTES]
    marks: list[Mark] = [Label(40, 56, t("Where things stand"), size=26, bold=True)]
    for at, note in enumerate(notes):
        y = 92.0 + 22 * at
        marks += [Label(40, y, str(at + 1), size=14, bold=True), Label(62, y, note, size=13)]
    marks += [*_room(), *_scale(), *_case(), *_signals(), *_pedal(), *_numbers()]
    spoken = " ".join((t("A bench from the side, not to scale."), *notes))
    return Drawing(t("Where things stand"), spoken, WIDTH, HEIGHT, tuple(marks), MM)


def _room() -> Sequence[Mark]:
    return (
        Line(40, _FLOOR, _WALL, _FLOOR),
        Box(_WALL, 260, 20, _FLOOR - 260, Ink.HATCH),
        Box(120, _BENCH, 640, 18, Ink.SHADE),
        Box(140, _BENCH + 18, 16, _FLOOR - _BENCH - 18, Ink.OUTLINE),
        Box(724, _BENCH + 18, 16, _FLOOR - _BENCH - 18, Ink.OUTLINE),
    )


def _cup(x: float, y: float) -> Path:
    return Path(((x - 34, y - 80), (x - 26, y), (x + 26, y), (x + 34, y - 80)))


def _scale() -> Sequence[Mark]:
    """The scale with a cup at the middle, the mixing cup with its stick at the left."""
    return (
        Box(450, _BENCH - 26, 170, 26),
        Box(465, _BENCH - 34, 140, 8, Ink.FILL),
        _cup(535, _BENCH - 34),
        _cup(230, _BENCH),
        Line(236, _BENCH - 8, 268, _BENCH - 130),
        Label(180, _BENCH + 40, t("mixing"), size=13),
        Label(500, _BENCH + 40, t("weighing"), size=13),
    )


def _case() -> Sequence[Mark]:
    """The case on the wall, the supply beside it, and the scale's cable in its loop."""
    return (
        Box(960, 320, 150, 90),
        Label(974, 370, t("Pi"), size=15, bold=True),
        Path(((1030, 410), (1030, _BENCH - 12), (620, _BENCH - 12))),
        Box(1060, 270, 50, 30),
        Path(((1060, 285), (940, 285), (940, 435), (975, 435), (975, 410))),
    )


def _signals() -> Sequence[Mark]:
    """Lamps and buzzer on a post behind the bench, the button at its front edge."""
    return (
        Box(826, 300, 48, 120),
        *(Dot(850, 322 + 26 * at, 9, Ink.MARK) for at in range(3)),
        Box(838, 388, 24, 22, Ink.FILL),
        Path(((850, 420), (850, 460), (1002, 460), (1002, 410))),
        Box(340, _BENCH - 16, 44, 16, Ink.FILL),
    )


def _pedal() -> Sequence[Mark]:
    return (
        Path(((330, _FLOOR), (330, _FLOOR - 12), (430, _FLOOR - 34), (430, _FLOOR)), Ink.FILL, closed=True),
        Path(((430, _FLOOR - 8), (1090, _FLOOR - 8), (1090, 410))),
    )


def _numbers() -> Sequence[Mark]:
    """Each note's number beside what it speaks of."""
    at = ((1040, 372), (960, 480), (800, 330), (366, 690), (356, 474), (636, 478), (1034, 266))
    return [Label(x, y, str(number), size=18, bold=True) for number, (x, y) in enumerate(at, 1)]
