"""A shot of foam as a drawing: the liquid in its cup, the cavity, and what it would rise to, all to one scale."""

from __future__ import annotations

from station.casting.foam import Shot
from station.drawing.marks import Anchor, Box, Drawing, Ink, Label, Line, Mark
from station.texts import N_, number, t

WIDTH, HEIGHT = 420.0, 272.0
_FLOOR, _TALLEST, _WIDE = 206.0, 160.0, 84.0
_CUP, _MOLD, _RISEN = 40.0, 168.0, 308.0
_MORE = N_("{apart} cm³ more than the cavity: packing factor {packing}")
_SHORT = N_("{apart} cm³ short of the cavity: packing factor {packing}")


def cup_and_mold(made: Shot, liquid_density: float, cup_cm3: float | None) -> Drawing:
    """Columns of the same width, heights in proportion to their volumes; the risen one where free rise is known."""
    liquid, cavity, free = made.liquid_cm3(liquid_density), made.cavity_cm3, made.free_rise_cm3
    columns = [(_CUP, liquid, Ink.FILL, t("liquid in the cup")), (_MOLD, cavity, Ink.OUTLINE, t("cavity"))]
    said = [
        t("{liquid} cm³ of liquid in the cup, a cavity of {cavity} cm³", liquid=f"{liquid:.0f}", cavity=f"{cavity:.0f}")
    ]
    if free is not None:
        columns.append((_RISEN, free, Ink.HATCH, t("risen freely")))
        said.append(t("{free} cm³ if it rose freely", free=f"{free:.0f}"))
    per_cm3 = _TALLEST / max(*(volume for _, volume, _, _ in columns), cup_cm3 or 0)
    marks: list[Mark] = [Line(10, _FLOOR, 410, _FLOOR, Ink.OUTLINE)]
    for x, volume, ink, name in columns:
        top = _FLOOR - volume * per_cm3
        marks += [
            Box(x, top, _WIDE, volume * per_cm3, ink),
            Label(x + _WIDE / 2, _FLOOR + 18, name, Anchor.MIDDLE, 13),
            Label(x + _WIDE / 2, _FLOOR + 35, f"{volume:.0f} cm³", Anchor.MIDDLE, 14, bold=True),
        ]
    if cup_cm3 is not None:
        brim = _FLOOR - cup_cm3 * per_cm3
        marks += [
            Line(_CUP - 6, _FLOOR, _CUP - 6, brim, Ink.DASHED),
            Line(_CUP + _WIDE + 6, _FLOOR, _CUP + _WIDE + 6, brim, Ink.DASHED),
            Label(_CUP - 6, brim - 6, t("brim {cup} cm³", cup=f"{cup_cm3:.0f}"), size=13),
        ]
        said.append(t("the cup holds {cup} cm³", cup=f"{cup_cm3:.0f}"))
    if free is not None and made.packing is not None:
        level = _FLOOR - cavity * per_cm3
        marks.append(Line(_MOLD, level, 400, level, Ink.DASHED))
        told = t(
            _MORE if free >= cavity else _SHORT,
            apart=f"{abs(free - cavity):.0f}",
            packing=number(made.packing, ".2f"),
        )
        marks.append(Label(410, _FLOOR + 58, told, Anchor.END, 13))
        said.append(told)
    return Drawing(t("Before, in the mold, and if nothing held it"), f"{'; '.join(said)}.", WIDTH, HEIGHT, tuple(marks))
