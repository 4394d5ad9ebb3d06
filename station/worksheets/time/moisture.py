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
from station.texts import N_, decimal, number, t
from station.worksheets.form import Field, Figure, Row, Values, Worked, Worksheet
from station.worksheets.kinds import Kind

_CHEMISTRIES = (
    Chemistry.URETHANE_FOAM,
    Chemistry.URETHANE_RUBBER,
    Chemistry.ADDITION_SILICONE,
    Chemistry.CONDENSATION_SILICONE,
    Chemistry.OTHER,
)
_SURFACES = {"mold": N_("Mold"), "material": N_("Material")}
_SPOKEN = {"mold": N_("The mold is at {celsius} °C."), "material": N_("The material is at {celsius} °C.")}
_LEVELS = (
    (Ink.DASHED, {"mold": N_("dashed line: mold {celsius} °C"), "material": N_("dashed line: material {celsius} °C")}),
    (
        Ink.OUTLINE,
        {"mold": N_("full level line: mold {celsius} °C"), "material": N_("full level line: material {celsius} °C")},
    ),
)
"""How the temperature of the first and the second surface is drawn, and how that is told."""


def work(values: Values) -> Worked:
    """Dew point, how far mold and material are above it, and cautions. Raises Refused outside -45…60 °C, 1…100 %."""
    air_c, percent = values["air"], values["humidity"]
    dew = dew_point_c(air_c, percent)
    full = saturation_hpa(air_c)
    surfaces = [surface(name, values[name], air_c, percent) for name in _SURFACES if values[name] is not None]
    rows = [
        Row(
            t("Dew point"),
            f"{_c(dew)} °C",
            t(
                "air of {air} °C holds {full} hPa of water vapour at most; {percent} % of that is {held} hPa, the most "
                "that air of {dew} °C holds",
                air=_c(air_c),
                full=number(full, ".1f"),
                percent=number(percent),
                held=number(full * percent / 100, ".1f"),
                dew=_c(dew),
            ),
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
            t(
                "A surface counts as dry from {margin} °C above the dew point. A can or a mold from a cold store takes "
                "hours to warm up: measure it, not the room.",
                margin=number(MARGIN_C),
            ),
        ),
        drawings=(_drawing(air_c, percent, dew, surfaces),),
    )


_BELOW = N_("{celsius} °C is {apart} °C below {dew} °C; the air at it has {humidity} % humidity")
_ABOVE = N_("{celsius} °C is {apart} °C above {dew} °C; the air at it has {humidity} % humidity")


def _row(found: Surface, dew: float) -> Row:
    state = t("wet") if found.wet else t("too near to the dew point") if found.near else t("dry")
    rule = t(
        _BELOW if found.above_k < 0 else _ABOVE,
        celsius=_c(found.celsius),
        apart=number(abs(found.above_k), ".1f"),
        dew=_c(dew),
        humidity=f"{found.percent:.0f}",
    )
    return Row(t(_SURFACES[found.name]), state, rule)


def _drawing(air_c: float, percent: float, dew: float, surfaces: list[Surface]) -> Drawing:
    curve = tuple((float(p), dew_point_c(air_c, p)) for p in range(10, 101, 2))
    levels = [*(found.celsius for found in surfaces), air_c, dew, curve[0][1]]
    across = Axis(t("relative humidity, %"), min(10.0, percent), 100.0)
    upward = Axis(t("dew point, °C"), min(levels) - 1, max(levels) + 4)
    marks = [Curve(curve, t("air of {air} °C", air=_c(air_c)))]
    words = [t("dot: dew point {dew} °C", dew=_c(dew))]
    for found, (ink, told) in zip(surfaces, _LEVELS, strict=False):
        level = ((across.low, found.celsius), ((across.low + across.high) / 2, found.celsius))
        marks.append(Curve(level, ink=ink))
        words.append(t(told[found.name], celsius=_c(found.celsius)))
    spoken = [t(_SPOKEN[found.name], celsius=_c(found.celsius)) for found in surfaces]
    spoken.append(
        t(
            "At {percent} % humidity air of {air} °C has its dew point at {dew} °C.",
            percent=number(percent),
            air=_c(air_c),
            dew=_c(dew),
        )
    )
    drawn = plot(t("Dew point by humidity"), " ".join(spoken), across, upward, marks, points=[Point(percent, dew)])
    key = [Label(58, drawn.height + 14 + 18 * at, text, size=13, bold=not at) for at, text in enumerate(words)]
    return replace(drawn, height=drawn.height + 18 * len(words) + 4, marks=(*drawn.marks, *key))


def _c(celsius: float) -> str:
    text = f"{celsius:.1f}"
    return decimal(text.lstrip("-") if not text.strip("-0.") else text.replace("-", "\N{MINUS SIGN}"))


def _of(material: Material) -> Mapping[str, str]:
    return {"chemistry": material.chemistry.value}


WORKSHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        key="moisture",
        title=N_("Dew point and humidity"),
        purpose=N_("Does water condense on the mold or the material, and is the air too damp for this system?"),
        fields=(
            Field("air", N_("Air temperature"), Kind.TEMPERATURE, hint=N_("Of the air at the bench.")),
            Field("humidity", N_("Relative humidity"), Kind.PERCENT, hint=N_("Of the air at the bench, 1 to 100 %.")),
            Field("mold", N_("Mold temperature"), Kind.TEMPERATURE, optional=True, hint=N_("Where it is coldest.")),
            Field(
                "material",
                N_("Material temperature"),
                Kind.TEMPERATURE,
                optional=True,
                hint=N_("In the can, not outside."),
            ),
            Field(
                "chemistry",
                N_("Kind of system"),
                Kind.CHOICE,
                choices=tuple(kind.value for kind in _CHEMISTRIES),
                hint=N_("As its sheet says."),
            ),
        ),
        work=work,
        from_material=_of,
    ),
)
