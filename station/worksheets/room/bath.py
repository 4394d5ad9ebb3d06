"""What the worksheets that weigh water share: fields of the water and the scale, and how a volume is told."""

from __future__ import annotations

from station.casting.units import CM3
from station.metrology.estimate import Estimate
from station.metrology.uncertainty import net_budget, rectangular
from station.metrology.water import AIR_G_CM3, WEIGHTS_G_CM3, Bath, air_density, water_density
from station.texts import N_, number, t
from station.worksheets.form import Field, Table, Values
from station.worksheets.kinds import Kind
from station.worksheets.plain import plain

SCALE = (
    Field(
        "readability",
        N_("Scale reads in steps of"),
        Kind.MASS,
        default="0.1 g",
        hint=N_("The last digit's step."),
    ),
    Field(
        "scale-within",
        N_("Scale is right within ±"),
        Kind.PERCENT,
        default="0.1 %",
        hint=N_("As the last scale check found it, in per cent of the load."),
    ),
)


WATER = (
    Field(
        "water",
        N_("Water temperature"),
        Kind.TEMPERATURE,
        default="20 °C",
        hint=N_("In the water itself, after it stood an hour in the room: cold tap water gives off bubbles."),
    ),
    Field("water-within", N_("Temperature known within ± (°C)"), Kind.NUMBER, default="1"),
)


def bath_of(values: Values) -> Bath:
    """The water as filled in."""
    return Bath(values["water"], values["water-within"])


def weighing_u_g(values: Values, load_g: float) -> float:
    """Standard uncertainty of one net weighing of up to `load_g`."""
    return net_budget(
        abs(load_g),
        readability_g=values["readability"],
        sensitivity_u=rectangular(values["scale-within"] / 100),
    ).combined_g


def spread(title: str, found: Estimate, unit: str) -> Table:
    """What each input adds to the ±, the largest first."""
    parts = sorted((part for part in found.parts if part[1] > 0), key=lambda one: -one[1])
    rows = tuple((name, f"{plain(part, 2)} {unit}") for name, part in parts)
    return Table(title, (t("from"), t("standard uncertainty")), rows)


def most_from(found: Estimate) -> str:
    """What a ± is worth, and where the most of it comes from."""
    return t("± holds with k = 2, about 95 of 100 times; the most of it comes from: {largest}.", largest=found.largest)


def air_note(bath: Bath) -> str:
    """How little it matters that air is counted as 1.2 kg/m³, for air as warm as the water at sea level."""
    air = air_density(bath.celsius)
    off = 100 * (air - AIR_G_CM3) * (1 / water_density(bath.celsius) - 1 / WEIGHTS_G_CM3)
    return t(
        "Air is counted as {counted} kg/m³ (OIML D 28); at {celsius} °C it has about {air} kg/m³, which would make "
        "{off} % of difference.",
        counted=number(1000 * AIR_G_CM3),
        celsius=number(bath.celsius),
        air=number(1000 * air, ".3f"),
        off=number(abs(off), ".4f"),
    )


def others(cm3: float) -> str:
    """A volume in the units of cups and rulers."""
    return ", ".join(f"{plain(cm3 / float(CM3[unit]), 4)} {unit}" for unit in ("in³", "US fl oz", "imp fl oz"))


def water_rule(grams: float, bath: Bath) -> str:
    """How a mass of water becomes a volume, in the person's own numbers."""
    return t(
        "{grams} g of water × (1 − {air}/{weights}) ÷ ({density} − {air}) g/cm³: water of {celsius} °C, weighed in air",
        grams=plain(grams, 7),
        air=number(AIR_G_CM3),
        weights=number(WEIGHTS_G_CM3),
        density=number(water_density(bath.celsius), ".5f"),
        celsius=number(bath.celsius),
    )
