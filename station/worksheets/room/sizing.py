"""Worksheet: how large a pattern must be so that the part comes out at its size."""

from __future__ import annotations

from station.casting.sizes import (
    Scaling,
    pattern_scale,
    shrinkage_percent,
    volume_shrinkage_percent,
)
from station.errors import Refused
from station.texts import N_, decimal, number, t
from station.worksheets.form import Field, Figure, Row, Values, Worked, Worksheet
from station.worksheets.kinds import Kind
from station.worksheets.plain import plain
from station.worksheets.room.cavity_links import filled_with
from station.worksheets.room.sizing_drawing import part_in_pattern

_AXES = {
    "length": (N_("Scale of the length"), N_("Make the length")),
    "width": (N_("Scale of the width"), N_("Make the width")),
    "height": (N_("Scale of the height"), N_("Make the height")),
}
"""Size of a part → what is said of its scale, and of the pattern's size."""
_NOT_ABOVE_ZERO = {
    "length": N_("The length of the part is {size}."),
    "width": N_("The width of the part is {size}."),
    "height": N_("The height of the part is {size}."),
    "volume": N_("The volume of the part is {size}."),
}
_FINISHED = N_("Of the finished part.")


def _shrinkages(values: Values) -> tuple[tuple[float, float, float], str]:
    """Linear shrinkage in % along each, and how the first was found."""
    mold, part = values["mold-length"], values["part-length"]
    if (mold is None) != (part is None):
        raise Refused(
            t("One of two lengths is missing."), t("Give the length in the mold and of the part, or neither.")
        )
    if mold is None:
        along, how = values["shrinkage"], t("as given")
    else:
        along, how = shrinkage_percent(mold, part), decimal(f"({mold:g} − {part:g} mm) ÷ {mold:g} mm × 100")
    across, upward = (along if value is None else value for value in (values["across"], values["upward"]))
    return (along, across, upward), how


def scale_part(values: Values) -> Worked:
    """Scale of the pattern and what it does to lengths and volume. Raises Refused."""
    shrinkages, how = _shrinkages(values)
    for name, said in _NOT_ABOVE_ZERO.items():
        if values[name] is not None and values[name] <= 0:
            raise Refused(t(said, size=number(values[name])), t("It must be above zero, or left empty."))
    factor = values["enlarge"]
    scaling = Scaling(*(factor * one for one in _against(shrinkages)))
    rows = [Row(t("Shrinkage"), f"{plain(shrinkages[0], 4)} %", how)]
    figures: dict[str, Figure] = {"shrinkage_percent": shrinkages[0], "volume_scale": scaling.volume}
    axes = zip(_AXES.items(), shrinkages, (scaling.x, scaling.y, scaling.z), strict=True)
    for (name, (scale_of, make)), shrinks, scale in axes:
        rule = f"{f'{number(factor)} × ' if factor != 1 else ''}1 ÷ (1 − {plain(shrinks / 100)})"
        rows.append(Row(t(scale_of), number(scale, ".5f"), rule))
        figures[f"{name}_scale"] = scale
        if (size := values[name]) is not None:
            rows.append(Row(t(make), decimal(f"{size * scale:.2f} mm"), decimal(f"{size:g} mm × {scale:.5f}")))
            figures[f"{name}_mm"] = size * scale
    rows.append(
        Row(
            t("Scale of the volume"),
            number(scaling.volume, ".5f"),
            decimal(f"{scaling.x:.5f} × {scaling.y:.5f} × {scaling.z:.5f}"),
        )
    )
    if scaling.area is not None:
        rows.append(Row(t("Scale of the surface"), number(scaling.area, ".5f"), decimal(f"{scaling.x:.5f}²")))
        figures["surface_scale"] = scaling.area
    if (volume := values["volume"]) is not None:
        rows.append(
            Row(
                t("Volume of the cavity"),
                f"{plain(volume * scaling.volume)} cm³",
                f"{plain(volume)} cm³ × {number(scaling.volume, '.5f')}",
            )
        )
        figures["volume_cm3"] = volume * scaling.volume
    notes = [t("Divide by what is left, do not add the shrinkage: 1 + s falls short.")]
    if len(set(shrinkages)) == 1:
        notes.append(
            t(
                "The volume shrinks {percent} %, about three times as much.",
                percent=plain(volume_shrinkage_percent(shrinkages[0]), 4),
            )
        )
    length, width, height = (values[axis] for axis in _AXES)
    return Worked(
        tuple(rows),
        figures,
        notes=tuple(notes),
        drawings=(part_in_pattern(scaling, (length, width, height)),),
        onward={} if volume is None else filled_with(volume * scaling.volume),
    )


def _against(shrinkages: tuple[float, float, float]) -> tuple[float, float, float]:
    x, y, z = shrinkages
    return pattern_scale(x), pattern_scale(y), pattern_scale(z)


SCALE_PART = Worksheet(
    key="scale-part",
    title=N_("Shrinkage and scale of a pattern"),
    purpose=N_("How much larger must the pattern be so that the part comes out at its size?"),
    fields=(
        Field(
            "shrinkage",
            N_("Linear shrinkage"),
            Kind.PERCENT,
            default="0.1 %",
            hint=N_("From the material's sheet, or measure it below."),
        ),
        Field(
            "mold-length",
            N_("Length in the mold"),
            Kind.LENGTH,
            optional=True,
            hint=N_("Measured in the mold; replaces the shrinkage above."),
        ),
        Field(
            "part-length",
            N_("The same length on the part"),
            Kind.LENGTH,
            optional=True,
            hint=N_("After full cure, at room temperature."),
        ),
        Field(
            "across",
            N_("Shrinkage of the width"),
            Kind.PERCENT,
            optional=True,
            hint=N_("Only when it differs, as with a part that is held on one side."),
        ),
        Field(
            "upward",
            N_("Shrinkage of the height"),
            Kind.PERCENT,
            optional=True,
            hint=N_("Only when it differs."),
        ),
        Field(
            "enlarge",
            N_("Enlarge besides"),
            Kind.NUMBER,
            default="1",
            hint=N_("1.05 makes the part 5 % larger than its drawing; 1 keeps it."),
        ),
        Field("length", N_("Wanted length"), Kind.LENGTH, optional=True, hint=_FINISHED),
        Field("width", N_("Wanted width"), Kind.LENGTH, optional=True, hint=_FINISHED),
        Field("height", N_("Wanted height"), Kind.LENGTH, optional=True, hint=_FINISHED),
        Field(
            "volume",
            N_("Volume of the part"),
            Kind.VOLUME,
            optional=True,
            hint=N_("As wanted, before it is enlarged."),
        ),
    ),
    work=scale_part,
)
