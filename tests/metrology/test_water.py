"""Volume and density by water: propagation against the uncertainties package, and laws that must hold."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from station.errors import Refused
from station.metrology.estimate import Input, estimate
from station.metrology.water import (
    AIR_G_CM3,
    Bath,
    air_density,
    buoyancy_factor,
    immersed_hanging,
    immersed_on_pan,
    volume_by_filling,
    water_density,
)

temperatures = st.floats(5, 35)
warmer = st.floats(12, 35)  # near 4 °C, where water is densest, a slope says nothing of a spread
spreads = st.floats(0.001, 0.05)


def pure_water(t):
    """Written out once more, for numbers that carry an uncertainty: Metrologia 38 (2001) 301-309."""
    return 0.999974950 * (1 - (t - 3.983035) ** 2 * (t + 301.797) / (522528.9 * (t + 69.34881)))


def rectangle(within):
    return within / math.sqrt(3)


@given(st.floats(20, 5000), warmer, spreads, st.floats(0.01, 2), st.floats(0.01, 5))
def test_a_filled_cavity_is_as_sure_as_the_uncertainties_package_says(grams, celsius, u_g, within_c, within_cm3):
    t, m, slack = ufloat(celsius, rectangle(within_c)), ufloat(grams, u_g), ufloat(0, rectangle(within_cm3))
    theirs = m * (1 - 0.0012 / 8) / (pure_water(t) - 0.0012) + slack
    ours = volume_by_filling(grams, Bath(celsius, within_c), u_g=u_g, within_cm3=within_cm3)
    assert ours.value == pytest.approx(theirs.nominal_value, rel=1e-12)
    assert ours.u == pytest.approx(theirs.std_dev, rel=1e-3)
    assert ours.expanded() == 2 * ours.u


@given(st.floats(20, 500), st.floats(0.2, 5), warmer, spreads, st.floats(0.01, 0.2))
def test_a_hung_thing_is_as_sure_as_the_uncertainties_package_says(volume, sinker, celsius, u_g, bubbles):
    in_air, support, within_c = 0.3 * volume, 60.0 * sinker + volume, 0.5
    together = support - 0.7 * volume  # it floats: 0.3 g/cm³
    a, w, b = ufloat(in_air, u_g), ufloat(support, u_g), ufloat(together, u_g)
    t, slack = ufloat(celsius, rectangle(within_c)), ufloat(0, rectangle(bubbles))
    theirs_volume = (a + w - b) * (1 - 0.0012 / 8) / (pure_water(t) - 0.0012) + slack
    theirs_density = a * (1 - 0.0012 / 8) / theirs_volume + 0.0012
    bath = Bath(celsius, within_c)
    ours = immersed_hanging(in_air, together, bath, u_g=u_g, support_g=support, within_cm3=bubbles)
    assert ours.volume.value == pytest.approx(theirs_volume.nominal_value, rel=1e-12)
    assert ours.volume.u == pytest.approx(theirs_volume.std_dev, rel=1e-3)
    assert ours.density.value == pytest.approx(theirs_density.nominal_value, rel=1e-12)
    assert ours.density.u == pytest.approx(theirs_density.std_dev, rel=1e-3)


@given(st.floats(20, 500), warmer, spreads, st.floats(0.1, 20))
def test_a_thing_held_under_in_a_cup_is_as_sure_as_the_uncertainties_package_says(volume, celsius, u_g, holder):
    in_air, gain = 1.1 * volume, volume + holder
    a, g, h = ufloat(in_air, u_g), ufloat(gain, u_g), ufloat(holder, u_g)
    t = ufloat(celsius, rectangle(0.5))
    theirs_volume = (g - h) * (1 - 0.0012 / 8) / (pure_water(t) - 0.0012)
    theirs_density = a * (1 - 0.0012 / 8) / theirs_volume + 0.0012
    ours = immersed_on_pan(in_air, gain, Bath(celsius), u_g=u_g, support_gain_g=holder)
    assert ours.volume.u == pytest.approx(theirs_volume.std_dev, rel=1e-3)
    assert ours.density.value == pytest.approx(theirs_density.nominal_value, rel=1e-12)
    assert ours.density.u == pytest.approx(theirs_density.std_dev, rel=1e-3)


def readings(density, volume, celsius):
    """What a scale shows for a solid in air, in water, and for the water it displaces: Archimedes, weight by weight."""
    shown = 1 / (1 - AIR_G_CM3 / 8)
    water = water_density(celsius)
    return (
        volume * (density - AIR_G_CM3) * shown,
        volume * (density - water) * shown,
        volume * (water - AIR_G_CM3) * shown,
    )


@given(st.floats(1.02, 3), st.floats(5, 2000), temperatures)
def test_hung_from_the_scale_or_held_in_a_cup_a_solid_is_the_same(density, volume, celsius):
    in_air, in_water, gain = readings(density, volume, celsius)
    hung = immersed_hanging(in_air, in_water, Bath(celsius), u_g=0.001)
    held = immersed_on_pan(in_air, gain, Bath(celsius), u_g=0.001)
    for solid in (hung, held):
        assert solid.volume.value == pytest.approx(volume, rel=1e-9)
        assert solid.density.value == pytest.approx(density, rel=1e-9)
    assert hung.specific_gravity == pytest.approx(held.specific_gravity, rel=1e-9)


@given(st.floats(0.03, 0.95), st.floats(5, 2000), st.floats(11, 500), temperatures)
def test_a_sinker_does_not_change_what_a_floating_thing_is(density, volume, sinker_cm3, celsius):
    in_air, lift, _ = readings(density, volume, celsius)
    _, sinker, _ = readings(8.0, sinker_cm3 + volume / 7, celsius)
    solid = immersed_hanging(in_air, sinker + lift, Bath(celsius), u_g=0.001, support_g=sinker)
    assert solid.volume.value == pytest.approx(volume, rel=1e-9)
    assert solid.density.value == pytest.approx(density, rel=1e-9)


@given(st.floats(0.03, 20), temperatures)
def test_mass_is_what_the_scale_reads_times_the_buoyancy_factor(density, celsius):
    in_air, _, _ = readings(density, 100.0, celsius)
    assert in_air * buoyancy_factor(density) == pytest.approx(100 * density, rel=1e-12)


@given(temperatures, temperatures)
def test_warm_water_is_lighter_above_four_degrees(one, other):
    cold, warm = sorted((one, other))
    assert water_density(cold) >= water_density(warm)


def test_what_makes_a_volume_unsure_is_named():
    found = volume_by_filling(438.2, Bath(22, 0.5), u_g=0.06, within_cm3=1.0)
    assert found.largest == "meniscus and trapped air"
    assert dict(found.parts)["meniscus and trapped air"] == pytest.approx(1 / math.sqrt(3))
    assert volume_by_filling(438.2, Bath(22, 5), u_g=0.06).largest == "temperature of the water"


@pytest.mark.parametrize("celsius", [-0.1, 40.1, 100, math.nan, math.inf])
def test_water_outside_its_table_is_refused(celsius):
    with pytest.raises(Refused, match="outside 0 to 40"):
        water_density(celsius)
    with pytest.raises(Refused, match="outside 0 to 40"):
        volume_by_filling(100, Bath(celsius), u_g=0.1)


def test_the_ends_of_the_table_have_an_uncertainty_too():
    for celsius in (0.0, 40.0):
        assert volume_by_filling(100, Bath(celsius, 1.0), u_g=0.0).u > 0


@pytest.mark.parametrize(
    ("air", "told"),
    [
        ((50, 1013, 50), "temperature of the air"),
        ((20, 400, 50), "pressure of the air"),
        ((20, 1013, 101), "humidity"),
        ((math.nan, 1013, 50), "temperature of the air"),
    ],
)
def test_air_that_no_workshop_has_is_refused(air, told):
    with pytest.raises(Refused, match=told):
        air_density(*air)


def test_a_thing_no_heavier_than_air_has_no_buoyancy_factor():
    with pytest.raises(Refused, match="not heavier than air"):
        buoyancy_factor(0.0012)


@pytest.mark.parametrize("in_water", [0.0, -1.5])
def test_a_floating_thing_asks_for_a_sinker(in_water):
    with pytest.raises(Refused, match="floats") as refused:
        immersed_hanging(20, in_water, Bath(20), u_g=0.01)
    assert "sinker" in refused.value.sentence()


def test_readings_that_are_mixed_up_are_refused():
    with pytest.raises(Refused, match="cannot be"):
        immersed_hanging(2.1, 22.0, Bath(20), u_g=0.01)
    with pytest.raises(Refused, match="cannot be"):
        immersed_on_pan(22.0, 5.0, Bath(20), u_g=0.01, support_gain_g=6.0)


@pytest.mark.parametrize("value", [0, -1, math.nan, math.inf])
def test_a_reading_that_is_none_is_refused(value):
    for call in (
        lambda: volume_by_filling(value, Bath(20), u_g=0.1),
        lambda: immersed_hanging(value, 1.0, Bath(20), u_g=0.1),
        lambda: immersed_on_pan(value, 1.0, Bath(20), u_g=0.1),
    ):
        with pytest.raises(Refused):
            call()


def test_a_volume_that_could_as_well_be_nothing_is_refused_with_the_reason():
    with pytest.raises(Refused, match="says nothing") as refused:
        immersed_on_pan(0.2, 0.15, Bath(20), u_g=0.1)
    assert "weighing in water" in refused.value.sentence()
    with pytest.raises(Refused, match="says nothing"):
        volume_by_filling(1.0, Bath(20), u_g=0.01, within_cm3=1.5)


def test_an_uncertainty_below_zero_is_refused():
    with pytest.raises(Refused, match="cannot be below zero"):
        estimate(lambda x: x, Input("length", 1.0, -0.1))
