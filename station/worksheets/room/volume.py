"""Worksheets without water: volume of plain shapes, scaling against shrinkage, and footwear sizes."""

from __future__ import annotations

from station.casting.shapes import together_cm3
from station.errors import Refused
from station.texts import N_, t
from station.worksheets.form import Field, Row, Table, Values, Worked, Worksheet
from station.worksheets.kinds import Kind
from station.worksheets.plain import plain
from station.worksheets.room.bath import others
from station.worksheets.room.cavity_links import filled_with
from station.worksheets.room.footwear import FOOTWEAR
from station.worksheets.room.shape_lines import Known, ShapeLine, shape_line
from station.worksheets.room.shapes_drawing import shapes_drawing
from station.worksheets.room.sizing import SCALE_PART


def _surface(line: ShapeLine) -> str:
    return t("not known") if isinstance(line.shape, Known) else f"{plain(line.count * line.shape.surface_cm2)} cm²"


def work(values: Values) -> Worked:
    """Volume of the listed shapes. Raises Refused with the line that cannot be read."""
    lines = tuple(shape_line(line) for line in values["shapes"])
    if not lines:
        raise Refused(t("There is no shape."), t("Write one a line."))
    added = [line.shape for line in lines if not line.minus for _ in range(line.count)]
    removed = [line.shape for line in lines if line.minus for _ in range(line.count)]
    total = together_cm3(added, removed)
    terms = " ".join(
        f"{'−' if line.minus else '+'} {plain(line.volume_cm3)}" for line in sorted(lines, key=lambda line: line.minus)
    ).removeprefix("+ ")
    return Worked(
        rows=(
            Row(t("Volume"), f"{plain(total)} cm³", f"{terms} cm³"),
            Row(t("In other units"), others(total)),
            *(Row(line.said, f"{'−' if line.minus else ''}{plain(line.volume_cm3)} cm³", line.rule) for line in lines),
        ),
        figures={
            "volume_cm3": total,
            "shapes": [
                {"shape": line.said, "volume_cm3": (-1 if line.minus else 1) * line.volume_cm3} for line in lines
            ],
        },
        notes=(
            t("Shapes that are added must not overlap, and what is cut out must lie wholly inside."),
            t("1000 mm³ are 1 cm³, and 1 cm³ is 1 ml."),
        ),
        drawings=(shapes_drawing(lines, total),),
        onward=filled_with(total),
        tables=(
            Table(
                t("Surfaces, each shape by itself"),
                (t("shape"), t("surface")),
                tuple((line.said, _surface(line)) for line in lines),
            ),
        ),
    )


WORKSHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        key="shapes",
        title=N_("Volume from dimensions"),
        purpose=N_("How much do plain shapes hold, added up and cut out of each other?"),
        fields=(
            Field(
                "shapes",
                N_("Shapes, one a line"),
                Kind.LINES,
                hint=N_(
                    'For example "box 120 80 30 mm", then "minus 4 × cylinder 20 × 30 mm". Known are box: length, '
                    "width, height; cylinder: diameter, height; cup: bottom diameter, top diameter, height; cone: "
                    "bottom diameter, height; tapered box: bottom length, bottom width, top length, top width, "
                    "height; ring: diameter from middle to middle, thickness; volume: 25 ml. Without a unit mm is "
                    "meant."
                ),
            ),
        ),
        work=work,
    ),
    SCALE_PART,
    FOOTWEAR,
)
