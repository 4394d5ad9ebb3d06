"""The fields of the worksheet for a shot of foam."""

from __future__ import annotations

from station.casting.foam_practice import FoamSort
from station.worksheets.form import Field
from station.worksheets.kinds import Kind

LIQUID_ASSUMED = 1.05
"""Density in g/cm³ of a liquid foam mix that nobody told. Common practice, no source; only the cup hangs on it."""

FIELDS = (
    Field("cavity", "Volume of the cavity", Kind.VOLUME, hint="By filling it with water, or from the mesh."),
    Field(
        "free-rise",
        "Free-rise density",
        Kind.DENSITY,
        optional=True,
        bare="kg/m3",
        hint="On the sheet. A foam called “6 lb” has 6 lb/ft3.",
    ),
    Field(
        "expansion",
        "Expansion",
        Kind.NUMBER,
        optional=True,
        hint="When the sheet gives no free-rise density: how many times its liquid's volume it fills.",
    ),
    Field("liquid", "Density of the liquid mix", Kind.DENSITY, optional=True, hint="Before it rises."),
    Field(
        "packing",
        "Packing factor",
        Kind.NUMBER,
        "1.15",
        hint="Molded ÷ free-rise density. 1.05 to 1.3 is usual for flexible parts (common practice, no source).",
    ),
    Field(
        "molded",
        "or molded density wanted",
        Kind.DENSITY,
        optional=True,
        bare="kg/m3",
        hint="Such as that of a part you like: its mass ÷ the cavity. Counts before the packing factor.",
    ),
    Field("sort", "Sort of foam", Kind.CHOICE, choices=tuple(sort.value for sort in FoamSort)),
    Field("loss", "Loss in cup and tools", Kind.PERCENT, "5 %", hint="Learned from weighed parts; 5 % to begin."),
    Field("ratio", "Mix ratio by weight", Kind.TEXT, hint="A to B to …, such as 100:60."),
    Field(
        "minimum-fill",
        "Least mass that fills this mold",
        Kind.MASS,
        optional=True,
        hint="From your own casts, when you know it.",
    ),
    Field("packing-low", "Sheet's lowest packing factor", Kind.NUMBER, optional=True),
    Field("packing-high", "Sheet's highest packing factor", Kind.NUMBER, optional=True),
    Field("cup", "Cup holds", Kind.VOLUME, optional=True, hint="To the brim."),
)
