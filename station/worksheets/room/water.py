"""Worksheets with water: the volume of a cavity by filling it; volume and density of a positive by immersing it."""

from __future__ import annotations

from station.metrology.water import volume_by_filling, water_density
from station.texts import N_, number, t
from station.worksheets.form import Field, Row, Values, Worked, Worksheet
from station.worksheets.kinds import Kind
from station.worksheets.plain import plain, with_spread
from station.worksheets.room.bath import (
    SCALE,
    WATER,
    air_note,
    bath_of,
    most_from,
    others,
    spread,
    water_rule,
    weighing_u_g,
)
from station.worksheets.room.cavity_links import filled_with
from station.worksheets.room.immersion import IMMERSE
from station.worksheets.room.water_drawing import density_plot, section

_DRY = N_(
    "Dry the mold fully before urethane goes in: water left in a corner reacts with the isocyanate, makes gas, and "
    "leaves bubbles and soft spots."
)


def fill(values: Values) -> Worked:
    """Volume of a cavity from its mass dry and full. Raises Refused."""
    net, bath = values["full"] - values["dry"], bath_of(values)
    found = volume_by_filling(net, bath, u_g=weighing_u_g(values, net), within_cm3=values["slack"])
    low = 100 * (found.value - net) / found.value
    return Worked(
        rows=(
            Row(t("Volume of the cavity"), with_spread(found.value, found.expanded(), "cm³"), water_rule(net, bath)),
            Row(t("In other units"), others(found.value)),
            Row(
                t("Water"),
                f"{plain(net, 7)} g",
                t("{full} g full − {dry} g dry", full=number(values["full"]), dry=number(values["dry"])),
            ),
        ),
        figures={
            "volume_cm3": found.value,
            "volume_u_cm3": found.u,
            "volume_expanded_cm3": found.expanded(),
            "water_g": net,
            "water_density_g_cm3": water_density(bath.celsius),
        },
        notes=(
            t(_DRY),
            t("Counting 1 g as 1 cm³ would be {low} % too little.", low=number(low, ".2f")),
            most_from(found),
            air_note(bath),
            t("A mold that bends holds more when it is full: support it as when you cast."),
        ),
        drawings=(section(values["dry"], values["full"], found.value, values["slack"]), density_plot(bath)),
        tables=(spread(t("Where the ± comes from"), found, "cm³"),),
        onward=filled_with(found.value),
    )


WORKSHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        key="fill-with-water",
        title=N_("Cavity by filling with water"),
        purpose=N_("How much does this mold hold?"),
        fields=(
            Field(
                "dry",
                N_("Mold dry and empty"),
                Kind.MASS,
                default="0 g",
                hint=N_("Stand the mold level on the scale and read it, or tare it there and leave 0 g."),
                pan=True,
            ),
            Field(
                "full",
                N_("Mold full of water"),
                Kind.MASS,
                hint=N_("Fill it to the parting line or brim, tap the bubbles out, wipe off drops outside, and read."),
                pan=True,
            ),
            *WATER,
            Field(
                "slack",
                N_("Meniscus and trapped air ±"),
                Kind.VOLUME,
                default="1 ml",
                hint=N_("How much water may be too much or missing: the bulge at the brim, bubbles, drops."),
            ),
            *SCALE,
        ),
        work=fill,
    ),
    IMMERSE,
)
