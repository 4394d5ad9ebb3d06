"""Worksheet: how large a pattern must be so that the part comes out at its size."""

from __future__ import annotations

from station.casting.sizes import (
    Scaling,
    pattern_scale,
    shrinkage_percent,
    volume_shrinkage_percent,
)
from station.errors import Refused
from station.worksheets.form import Field, Figure, Row, Values, Worked, Worksheet
from station.worksheets.kinds import Kind
from station.worksheets.plain import plain
from station.worksheets.room.cavity_links import filled_with
from station.worksheets.room.sizing_drawing import part_in_pattern

_AXES = ("length", "width", "height")


def _shrinkages(values: Values) -> tuple[tuple[float, float, float], str]:
    """Linear shrinkage in % along each, and how the first was found."""
    mold, part = values["mold-length"], values["part-length"]
    if (mold is None) != (part is None):
        raise Refused("One of two lengths is missing.", "Give the length in the mold and of the part, or neither.")
    if mold is None:
        along, how = values["shrinkage"], "as given"
    else:
        along, how = shrinkage_percent(mold, part), f"({mold:g} − {part:g} mm) ÷ {mold:g} mm × 100"
    across, upward = (along if value is None else value for value in (values["across"], values["upward"]))
    return (along, across, upward), how


def scale_part(values: Values) -> Worked:
    """Scale of the pattern and what it does to lengths and volume. Raises Refused."""
    shrinkages, how = _shrinkages(values)
    for name in (*_AXES, "volume"):
        if values[name] is not None and values[name] <= 0:
            raise Refused(f"The {name} of the part is {values[name]:g}.", "It must be above zero, or left empty.")
    factor = values["enlarge"]
    scaling = Scaling(*(factor * one for one in _against(shrinkages)))
    rows = [Row("Shrinkage", f"{plain(shrinkages[0], 4)} %", how)]
    figures: dict[str, Figure] = {"shrinkage_percent": shrinkages[0], "volume_scale": scaling.volume}
    for name, shrinks, scale in zip(_AXES, shrinkages, (scaling.x, scaling.y, scaling.z), strict=True):
        rule = f"{f'{factor:g} × ' if factor != 1 else ''}1 ÷ (1 − {plain(shrinks / 100)})"
        rows.append(Row(f"Scale of the {name}", f"{scale:.5f}", rule))
        figures[f"{name}_scale"] = scale
        if (size := values[name]) is not None:
            rows.append(Row(f"Make the {name}", f"{size * scale:.2f} mm", f"{size:g} mm × {scale:.5f}"))
            figures[f"{name}_mm"] = size * scale
    rows.append(
        Row("Scale of the volume", f"{scaling.volume:.5f}", f"{scaling.x:.5f} × {scaling.y:.5f} × {scaling.z:.5f}")
    )
    if scaling.area is not None:
        rows.append(Row("Scale of the surface", f"{scaling.area:.5f}", f"{scaling.x:.5f}²"))
        figures["surface_scale"] = scaling.area
    if (volume := values["volume"]) is not None:
        rows.append(
            Row(
                "Volume of the cavity",
                f"{plain(volume * scaling.volume)} cm³",
                f"{plain(volume)} cm³ × {scaling.volume:.5f}",
            )
        )
        figures["volume_cm3"] = volume * scaling.volume
    notes = ["Divide by what is left, do not add the shrinkage: 1 + s falls short."]
    if len(set(shrinkages)) == 1:
        notes.append(
            f"The volume shrinks {plain(volume_shrinkage_percent(shrinkages[0]), 4)} %, about three times as much."
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
    title="Shrinkage and scale of a pattern",
    purpose="How much larger must the pattern be so that the part comes out at its size?",
    fields=(
        Field(
            "shrinkage",
            "Linear shrinkage",
            Kind.PERCENT,
            default="0.1 %",
            hint="From the material's sheet, or measure it below.",
        ),
        Field(
            "mold-length",
            "Length in the mold",
            Kind.LENGTH,
            optional=True,
            hint="Measured in the mold; replaces the shrinkage above.",
        ),
        Field(
            "part-length",
            "The same length on the part",
            Kind.LENGTH,
            optional=True,
            hint="After full cure, at room temperature.",
        ),
        Field(
            "across",
            "Shrinkage of the width",
            Kind.PERCENT,
            optional=True,
            hint="Only when it differs, as with a part that is held on one side.",
        ),
        Field("upward", "Shrinkage of the height", Kind.PERCENT, optional=True, hint="Only when it differs."),
        Field(
            "enlarge",
            "Enlarge besides",
            Kind.NUMBER,
            default="1",
            hint="1.05 makes the part 5 % larger than its drawing; 1 keeps it.",
        ),
        *(Field(axis, f"Wanted {axis}", Kind.LENGTH, optional=True, hint="Of the finished part.") for axis in _AXES),
        Field("volume", "Volume of the part", Kind.VOLUME, optional=True, hint="As wanted, before it is enlarged."),
    ),
    work=scale_part,
)
