"""Worksheets with water: the volume of a cavity by filling it; volume and density of a positive by immersing it."""

from __future__ import annotations

from station.metrology.water import volume_by_filling, water_density
from station.worksheets.form import Field, Row, Values, Worked, Worksheet
from station.worksheets.kinds import Kind
from station.worksheets.plain import plain, with_spread
from station.worksheets.room.bath import SCALE, WATER, air_note, bath_of, others, spread, water_rule, weighing_u_g
from station.worksheets.room.cavity_links import filled_with
from station.worksheets.room.immersion import IMMERSE
from station.worksheets.room.water_drawing import density_plot, section

_DRY = (
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
            Row("Volume of the cavity", with_spread(found.value, found.expanded(), "cm³"), water_rule(net, bath)),
            Row("In other units", others(found.value)),
            Row("Water", f"{plain(net, 7)} g", f"{values['full']:g} g full − {values['dry']:g} g dry"),
        ),
        figures={
            "volume_cm3": found.value,
            "volume_u_cm3": found.u,
            "volume_expanded_cm3": found.expanded(),
            "water_g": net,
            "water_density_g_cm3": water_density(bath.celsius),
        },
        notes=(
            _DRY,
            f"Counting 1 g as 1 cm³ would be {low:.2f} % too little.",
            f"± holds with k = 2, about 95 of 100 times; the most of it comes from: {found.largest}.",
            air_note(bath),
            "A mold that bends holds more when it is full: support it as when you cast.",
        ),
        drawings=(section(values["dry"], values["full"], found.value, values["slack"]), density_plot(bath)),
        tables=(spread("Where the ± comes from", found, "cm³"),),
        onward=filled_with(found.value),
    )


WORKSHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        key="fill-with-water",
        title="Cavity by filling with water",
        purpose="How much does this mold hold?",
        fields=(
            Field(
                "dry",
                "Mold dry and empty",
                Kind.MASS,
                default="0 g",
                hint="Stand the mold level on the scale and read it, or tare it there and leave 0 g.",
                pan=True,
            ),
            Field(
                "full",
                "Mold full of water",
                Kind.MASS,
                hint="Fill it to the parting line or brim, tap the bubbles out, wipe off drops outside, and read.",
                pan=True,
            ),
            *WATER,
            Field(
                "slack",
                "Meniscus and trapped air ±",
                Kind.VOLUME,
                default="1 ml",
                hint="How much water may be too much or missing: the bulge at the brim, bubbles, drops.",
            ),
            *SCALE,
        ),
        work=fill,
    ),
    IMMERSE,
)
