"""Worksheet: volume and density of a positive by immersing it in water."""

from __future__ import annotations

from station.metrology.water import AIR_G_CM3, WEIGHTS_G_CM3, immersed_hanging, immersed_on_pan, water_density
from station.texts import N_, decimal, number, t
from station.worksheets.form import Field, Row, Values, Worked, Worksheet
from station.worksheets.kinds import Kind
from station.worksheets.plain import plain, with_spread
from station.worksheets.room.bath import SCALE, WATER, bath_of, most_from, others, spread, water_rule, weighing_u_g
from station.worksheets.room.immersion_drawing import Weighed, held_under, hung_below

_IN_CUP = N_("held under in a cup on the scale")
_HUNG = N_("hung under the scale")

_OPEN_CELL = N_("Open-cell foam drinks water and reads too dense: take its volume from its dimensions instead.")


def immerse(values: Values) -> Worked:
    """Volume and density of an immersed thing. Raises Refused."""
    in_air, in_water, support = values["in-air"], values["in-water"], values["support"]
    bath, hung = bath_of(values), values["way"] == _HUNG
    u_g = weighing_u_g(values, max(in_air, in_water, support))
    readings = {"air": number(in_air), "water": number(in_water), "support": number(support)}
    if hung:
        solid = immersed_hanging(in_air, in_water, bath, u_g=u_g, support_g=support, within_cm3=values["slack"])
        displaced, how = in_air + support - in_water, t("{air} g in air + {support} g − {water} g in water", **readings)
    else:
        solid = immersed_on_pan(in_air, in_water, bath, u_g=u_g, support_gain_g=support, within_cm3=values["slack"])
        displaced = in_water - support
        how = t("{water} g with it under water − {support} g with the holder alone", **readings)
    weighed = Weighed(in_air, in_water, support, displaced, solid.volume.value)
    drawn = hung_below(weighed) if hung else held_under(weighed)
    floats = solid.density.value < water_density(bath.celsius)
    return Worked(
        rows=(
            Row(
                t("Volume"),
                with_spread(solid.volume.value, solid.volume.expanded(), "cm³"),
                water_rule(displaced, bath),
            ),
            Row(
                t("Density"),
                with_spread(solid.density.value, solid.density.expanded(), "g/cm³"),
                decimal(
                    f"{in_air:g} g × (1 − {AIR_G_CM3:g}/{WEIGHTS_G_CM3:g}) ÷ {solid.volume.value:.2f} cm³ + "
                    f"{AIR_G_CM3:g}"
                ),
            ),
            Row(
                t("Specific gravity"),
                number(solid.specific_gravity, ".4f"),
                f"{number(in_air)} g ÷ {plain(displaced, 7)} g",
            ),
            Row(t("Water displaced"), f"{plain(displaced, 7)} g", how),
            Row(t("Volume in other units"), others(solid.volume.value)),
        ),
        figures={
            "volume_cm3": solid.volume.value,
            "volume_expanded_cm3": solid.volume.expanded(),
            "density_g_cm3": solid.density.value,
            "density_expanded_g_cm3": solid.density.expanded(),
            "specific_gravity": solid.specific_gravity,
            "displaced_g": displaced,
        },
        warnings=(
            (
                t(
                    "It is lighter than water: the volume holds only if all of it was under water when you read the "
                    "scale."
                ),
            )
            if floats
            else ()
        ),
        notes=(
            t(_OPEN_CELL),
            t("A positive that must not get wet can be sealed in thin film: wring the air out, it counts as bubbles."),
            t("Dry the positive again before a mold is made of it: silicone does not mind, urethane does."),
            most_from(solid.volume),
        ),
        drawings=(drawn,),
        tables=(
            spread(t("Where the ± of the volume comes from"), solid.volume, "cm³"),
            spread(t("Where the ± of the density comes from"), solid.density, "g/cm³"),
        ),
    )


IMMERSE = Worksheet(
    key="immerse",
    title=N_("Positive by immersing it in water"),
    purpose=N_("What volume and density has this positive or cast?"),
    fields=(
        Field(
            "way",
            N_("How it is put under water"),
            Kind.CHOICE,
            choices=(_IN_CUP, _HUNG),
            hint=N_("In a cup of water that stands on the scale, or on a thread from a hook under the scale."),
        ),
        Field("in-air", N_("In air"), Kind.MASS, hint=N_("Dry, on the pan."), pan=True),
        Field(
            "in-water",
            N_("Under water"),
            Kind.MASS,
            hint=N_(
                "In a cup: tare the cup of water, hold the thing under with a thin rod or thread so that it "
                "touches nothing, and read. Hung: tare the empty hook in air, hang the thing under water, and read. "
                "Brush the bubbles off first."
            ),
            pan=True,
        ),
        Field(
            "support",
            N_("Under water without it"),
            Kind.MASS,
            default="0 g",
            hint=N_(
                "The same reading with only the rod, or with only wire and sinker, as deep as before; 0 g for a "
                "bare thread. What floats needs a rod or a sinker."
            ),
            pan=True,
        ),
        *WATER,
        Field("slack", N_("Bubbles ±"), Kind.VOLUME, default="0.1 ml", hint=N_("How much air may cling to it.")),
        *SCALE,
    ),
    work=immerse,
)
