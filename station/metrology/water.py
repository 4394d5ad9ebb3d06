"""Volume and density by weighing water: what fills a cavity, and what an immersed positive displaces.

A scale is adjusted with steel weights in air, so it reads light things too light: its reading is a conventional
mass (OIML D 28: weights of 8000 kg/m³ in air of 1.2 kg/m³). Water is 0.1 % heavier than it reads and 0.2 to 0.4 %
lighter than 1 g/cm³ at room temperature; both are put right here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from station.errors import Refused
from station.metrology.estimate import Estimate, Input, estimate
from station.metrology.given import above_zero, not_below_zero
from station.metrology.uncertainty import rectangular
from station.texts import number, t

COLDEST_C = 0.0
WARMEST_C = 40.0
WEIGHTS_G_CM3 = 8.0
"""Density of the weights that scales are adjusted with, by convention (OIML D 28, OIML R 111-1)."""
AIR_G_CM3 = 0.0012
"""Density of air by the same convention; 5 % off changes a volume by water by 0.005 %."""


def _pure_water(celsius: float) -> float:
    t = celsius
    kg_m3 = 999.974950 * (1 - (t - 3.983035) ** 2 * (t + 301.797) / (522528.9 * (t + 69.34881)))
    return kg_m3 / 1000


def _water_range(celsius: float) -> float:
    if not COLDEST_C <= celsius <= WARMEST_C:  # nan too
        raise Refused(
            t("Water at {celsius} °C is outside 0 to 40 °C, where its density is known here.", celsius=number(celsius)),
            t("Let it come to the temperature of the room and measure it in the water."),
        )
    return celsius


def water_density(celsius: float) -> float:
    """Density of pure, air-free water at normal pressure in g/cm³, 0 to 40 °C.

    Formula: Metrologia 38 (2001) 301-309. Tap water is up to 0.0005 g/cm³ denser. Raises Refused.
    """
    return _pure_water(_water_range(celsius))


def air_density(celsius: float, hpa: float = 1013.25, humidity_percent: float = 50.0) -> float:
    """Density of air in g/cm³ from its temperature, pressure (at the bench, not of sea level) and humidity.

    Formula: OIML R 111-1:2004, E.3: (0.34848 p - 0.009 h exp(0.061 t)) / (273.15 + t) kg/m³, good to 0.02 % at
    900 to 1100 hPa and 10 to 30 °C, somewhat worse beyond. Raises Refused for air that no workshop has.
    """
    for name, value, low, high, unit in (
        (t("temperature of the air"), celsius, -10.0, 45.0, "°C"),
        (t("pressure of the air"), hpa, 500.0, 1100.0, "hPa"),
        (t("humidity of the air"), humidity_percent, 0.0, 100.0, "%"),
    ):
        if not low <= value <= high:
            raise Refused(
                t("The {name} is {value} {unit}.", name=name, value=number(value), unit=unit),
                t("It must lie between {low} and {high} {unit}.", low=number(low), high=number(high), unit=unit),
            )
    kg_m3 = (0.34848 * hpa - 0.009 * humidity_percent * math.exp(0.061 * celsius)) / (273.15 + celsius)
    return kg_m3 / 1000


def buoyancy_factor(density: float, air: float = AIR_G_CM3) -> float:
    """Mass of a thing of `density` g/cm³ divided by what the scale reads: (1 - air/8.0) / (1 - air/density).

    OIML D 28, conventional mass. Raises Refused for a thing not heavier than air.
    """
    if above_zero(t("density"), density, "g/cm³") <= not_below_zero(t("density of air"), air, "g/cm³"):
        raise Refused(
            t("A thing of {density} g/cm³ is not heavier than air.", density=number(density)), t("Check its density.")
        )
    return (1 - air / WEIGHTS_G_CM3) / (1 - air / density)


def _cm3_of(reading_g: float, celsius: float, air: float) -> float:
    """Volume of the water, or of the displaced water, that makes a scale read `reading_g`."""
    return reading_g * (1 - air / WEIGHTS_G_CM3) / (_pure_water(celsius) - air)


def _sure_enough(volume: Estimate) -> Estimate:
    """The volume, or Refused when it could as well be nothing; a density from it would be any number."""
    if volume.expanded() >= volume.value:
        raise Refused(
            t(
                "The volume is {value} ± {expanded} cm³, which says nothing.",
                value=number(volume.value, ".3g"),
                expanded=number(volume.expanded(), ".2g"),
            ),
            t("It is too small for this; most comes from: {largest}.", largest=volume.largest),
        )
    return volume


@dataclass(frozen=True, slots=True)
class Bath:
    """The water: its temperature in °C and within ± how many °C it is known; the air above it in g/cm³."""

    celsius: float
    within_c: float = 0.5
    air: float = AIR_G_CM3

    def temperature(self) -> Input:
        """As an input of a computed quantity. Raises Refused outside 0 to 40 °C."""
        return Input(t("temperature of the water"), _water_range(self.celsius), rectangular(self.within_c))


def _allowed(name: str, within_cm3: float) -> Input:
    return Input(name, 0.0, rectangular(not_below_zero(name, within_cm3, "cm³")))


def volume_by_filling(net_g: float, bath: Bath, *, u_g: float, within_cm3: float = 0.0) -> Estimate:
    """Volume in cm³ of a cavity that `net_g` grams of water, as read off the scale, fill to the brim.

    `u_g`: standard uncertainty of that net weighing in grams. `within_cm3`: how many cm³ meniscus, trapped air and
    drops may have taken or added. V = m (1 - air/8.0) / (water - air). Raises Refused.
    """
    return _sure_enough(
        estimate(
            lambda m, t, slack: _cm3_of(m, t, bath.air) + slack,
            Input(t("weighing of the water"), above_zero(t("mass of the water"), net_g), u_g),
            bath.temperature(),
            _allowed(t("meniscus and trapped air"), within_cm3),
        )
    )


@dataclass(frozen=True, slots=True)
class Solid:
    """An immersed thing: volume in cm³, density in g/cm³, and specific gravity against water of that temperature."""

    volume: Estimate
    density: Estimate
    specific_gravity: float


def _solid(air_reading: Input, displaced: tuple[Input, ...], signs: tuple[int, ...], bath: Bath, cling: Input) -> Solid:
    """From the reading in air and those whose signed sum, the reading in air included, is the water displaced."""

    def water(readings: tuple[float, ...]) -> float:
        return sum(sign * reading for sign, reading in zip(signs, readings, strict=True))

    readings = (air_reading, *displaced)
    pushed_away = water(tuple(one.value for one in readings))
    if not math.isfinite(pushed_away) or pushed_away <= 0:
        raise Refused(
            t("It seems to displace {pushed_away} g of water, which cannot be.", pushed_away=number(pushed_away)),
            t("Check which reading is which, and that the scale was tared before each."),
        )

    def volume(*values: float) -> float:
        *weighed, celsius, slack = values
        return _cm3_of(water(tuple(weighed)), celsius, bath.air) + slack

    def density(*values: float) -> float:
        return values[0] * (1 - bath.air / WEIGHTS_G_CM3) / volume(*values) + bath.air

    inputs = (*readings, bath.temperature(), cling)
    return Solid(_sure_enough(estimate(volume, *inputs)), estimate(density, *inputs), air_reading.value / pushed_away)


def immersed_hanging(
    in_air_g: float, in_water_g: float, bath: Bath, *, u_g: float, support_g: float = 0.0, within_cm3: float = 0.0
) -> Solid:
    """A thing hung from the scale into water (ASTM D792 method A, ISO 1183-1 method A).

    `in_water_g` is read with the thing, its wire and, if it floats, a sinker, all under water; `support_g` with wire
    and sinker alone at the same depth. The water displaced is in_air + support - in_water, specific gravity the
    reading in air over it. `u_g` is the standard uncertainty of each reading, `within_cm3` what bubbles may be.
    Raises Refused, also when the thing floats and no sinker was used.
    """
    a = above_zero(t("reading in air"), in_air_g)
    w = not_below_zero(t("reading of wire and sinker in water"), support_g)
    b = in_water_g
    if b <= 0:  # a slack thread reads nothing
        raise Refused(
            t("The reading in water is {b} g: it floats.", b=number(b)),
            t("Hang a sinker under it and weigh that alone in water too."),
        )
    return _solid(
        Input(t("weighing in air"), a, u_g),
        (Input(t("weighing in water"), b, u_g), Input(t("weighing of wire and sinker"), w, u_g if w else 0.0)),
        (1, -1, 1),
        bath,
        _allowed(t("bubbles"), within_cm3),
    )


def immersed_on_pan(
    in_air_g: float, gain_g: float, bath: Bath, *, u_g: float, support_gain_g: float = 0.0, within_cm3: float = 0.0
) -> Solid:
    """A thing held under water in a cup that stands on the scale, touching neither wall nor bottom.

    The scale reads by how much more the cup presses: the water displaced (the same law of Archimedes, read at the
    other end; ASTM D792 and ISO 1183-1 hang the thing from the scale instead). `gain_g` with the thing and what
    holds it under, `support_gain_g` with that alone to the same depth. Raises Refused.
    """
    support = not_below_zero(t("reading with the holder alone"), support_gain_g)
    return _solid(
        Input(t("weighing in air"), above_zero(t("reading in air"), in_air_g), u_g),
        (
            Input(t("weighing in water"), above_zero(t("reading in water"), gain_g), u_g),
            Input(t("weighing of what holds it under"), support, u_g if support else 0.0),
        ),
        (0, 1, -1),
        bath,
        _allowed(t("bubbles"), within_cm3),
    )
