"""Worksheet: the dew point at the bench, whether the mold or the material gets wet, and what humidity does."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from station.casting.chemistry import Chemistry
from station.casting.moisture import (
    MARGIN_C,
    Surface,
    chemistry_caution,
    dew_point_c,
    saturation_hpa,
    surface,
    surface_caution,
)
from station.core.material import Material
from station.drawing.marks import Drawing, Ink, Label
from station.drawing.plot import Axis, Curve, Point, plot
from station.worksheets.form import Field, Figure, Row, Values, Worked, Worksheet
from station.worksheets.kinds import Kind

_CHEMISTRIES = (
    Chemistry.URETHANE_FOAM,
    Chemistry.URETHANE_RUBBER,
    Chemistry.ADDITION_SILICONE,
    Chemistry.CONDENSATION_SILICONE,
    Chemistry.OTHER,
)
_SURFACES = ("mold", "material")
_LEVELS = ((Ink.DASHED, "dashed line"), (Ink.OUTLINE, "full level line"))
"""How the temperature of the first and the second surface is drawn."""


def work(values: Values) -> Worked:
    """Dew point, how far mold and material are above it, and cautions. Raises Refused outside -45…60 °C, 1…100 %."""
    air_c, percent = values["air"], values["humidity"]
    dew = dew_point_c(air_c, percent)
    full = saturation_hpa(air_c)
    surfaces = [surface(name, values[name], air_c, percent) for name in _SURFACES if values[name] is not None]
    rows = [
        Row(
            "Dew point",
            f"{_c(dew)} °C",
            f"air of {_c(air_c)} °C holds {full:.1f} hPa of water vapour at most; {percent:g} % of that is "
            f"{full * percent / 100:.1f} hPa, the most that air of {_c(dew)} °C holds",
        ),
        *(_row(found, dew) for found in surfaces),
    ]
    figures: dict[str, Figure] = {"dew_point_c": dew}
    for found in surfaces:
        figures |= {
            f"{found.name}_above_dew_point_c": found.above_k,
            f"{found.name}_wet": found.wet,
            f"humidity_at_{found.name}_percent": found.percent,
        }
    said = [surface_caution(found) for found in surfaces]
    said.append(chemistry_caution(Chemistry(values["chemistry"]), percent))
    return Worked(
        rows=tuple(rows),
        figures=figures,
        warnings=tuple(sentence for sentence in said if sentence),
        notes=(
            f"A surface counts as dry from {MARGIN_C:g} °C above the dew point. A can or a mold from a cold store "
            "takes hours to warm up: measure it, not the room.",
        ),
        drawings=(_drawing(air_c, percent, dew, surfaces),),
    )


def _row(found: Surface, dew: float) -> Row:
    how = "below" if found.above_k < 0 else "above"
    state = "wet" if found.wet else "too near to the dew point" if found.near else "dry"
    return Row(
        found.name.capitalize(),
        state,
        f"{_c(found.celsius)} °C is {abs(found.above_k):.1f} °C {how} {_c(dew)} °C; "
        f"the air at it has {found.percent:.0f} % humidity",
    )


def _drawing(air_c: float, percent: float, dew: float, surfaces: list[Surface]) -> Drawing:
    curve = tuple((float(p), dew_point_c(air_c, p)) for p in range(10, 101, 2))
    levels = [*(found.celsius for found in surfaces), air_c, dew, curve[0][1]]
    across = Axis("relative humidity, %", min(10.0, percent), 100.0)
    upward = Axis("dew point, °C", min(levels) - 1, max(levels) + 4)
    marks = [Curve(curve, f"air of {_c(air_c)} °C")]
    words = [f"dot: dew point {_c(dew)} °C"]
    for found, (ink, line) in zip(surfaces, _LEVELS, strict=False):
        level = ((across.low, found.celsius), ((across.low + across.high) / 2, found.celsius))
        marks.append(Curve(level, ink=ink))
        words.append(f"{line}: {found.name} {_c(found.celsius)} °C")
    spoken = "".join(f"The {found.name} is at {_c(found.celsius)} °C. " for found in surfaces)
    spoken += f"At {percent:g} % humidity air of {_c(air_c)} °C has its dew point at {_c(dew)} °C."
    drawn = plot("Dew point by humidity", spoken, across, upward, marks, points=[Point(percent, dew)])
    key = [Label(58, drawn.height + 14 + 18 * at, text, size=13, bold=not at) for at, text in enumerate(words)]
    return replace(drawn, height=drawn.height + 18 * len(words) + 4, marks=(*drawn.marks, *key))


def _c(celsius: float) -> str:
    text = f"{celsius:.1f}"
    return text.lstrip("-") if not text.strip("-0.") else text.replace("-", "\N{MINUS SIGN}")


def _of(material: Material) -> Mapping[str, str]:
    return {"chemistry": material.chemistry.value}


WORKSHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        key="moisture",
        title="Dew point and humidity",
        purpose="Does water condense on the mold or the material, and is the air too damp for this system?",
        fields=(
            Field("air", "Air temperature", Kind.TEMPERATURE, hint="Of the air at the bench."),
            Field("humidity", "Relative humidity", Kind.PERCENT, hint="Of the air at the bench, 1 to 100 %."),
            Field("mold", "Mold temperature", Kind.TEMPERATURE, optional=True, hint="Where it is coldest."),
            Field("material", "Material temperature", Kind.TEMPERATURE, optional=True, hint="In the can, not outside."),
            Field(
                "chemistry",
                "Kind of system",
                Kind.CHOICE,
                choices=tuple(kind.value for kind in _CHEMISTRIES),
                hint="As its sheet says.",
            ),
        ),
        work=work,
        from_material=_of,
    ),
)
