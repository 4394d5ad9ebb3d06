"""Water, air and buoyancy against published tables and formulas, and against IAPWS-95 as an independent hand."""

import pytest
from iapws import IAPWS95

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

# kg/m³ at 101.325 kPa: Metrologia 38 (2001) 301-309.
PURE_WATER = {
    4: 999.9749, 10: 999.7027, 15: 999.1026, 18: 998.5984, 20: 998.2067, 21: 997.995, 24: 997.2988, 25: 997.047,
    30: 995.6488, 35: 994.0326, 40: 992.2152,
}  # fmt: skip


@pytest.mark.parametrize(("celsius", "kg_m3"), PURE_WATER.items())
def test_water_is_as_dense_as_the_published_table_says(celsius, kg_m3):
    assert water_density(celsius) * 1000 == pytest.approx(kg_m3, abs=1e-4)


@pytest.mark.parametrize("celsius", [0.1, 4, 10, 15, 20, 22.5, 25, 30, 35, 40])
def test_water_is_as_dense_as_iapws_95_computes(celsius):
    # The release of 1995 (IAPWS R6-95) as the iapws package has it; the two agree within 0.002 kg/m³.
    theirs = IAPWS95(T=celsius + 273.15, P=0.101325).rho
    assert water_density(celsius) * 1000 == pytest.approx(theirs, abs=0.002)


@pytest.mark.parametrize(
    ("celsius", "hpa", "humidity", "kg_m3", "tolerance"),
    [
        # OIML R 111-1:2004, E.3 approximation.
        (20, 1013.25, 50, 1.1993, 1e-4),
        (23, 950, 50, 1.1118, 2e-4),
    ],
)
def test_air_is_as_dense_as_the_published_approximation_says(celsius, hpa, humidity, kg_m3, tolerance):
    assert air_density(celsius, hpa, humidity) * 1000 == pytest.approx(kg_m3, abs=tolerance)


def test_air_is_an_ideal_gas_of_dry_air_and_water_vapour():
    # Independent of the approximation: dry air 287.05 and vapour 461.5 J/(kg K), vapour pressure by IAPWS-95.
    for celsius, hpa, humidity in ((15, 1013.25, 30), (20, 980, 60), (27, 1030, 70)):
        kelvin = celsius + 273.15
        vapour = humidity / 100 * IAPWS95(T=kelvin, x=0).P * 1e6
        theirs = (hpa * 100 - vapour) / (287.05 * kelvin) + vapour / (461.5 * kelvin)
        assert air_density(celsius, hpa, humidity) * 1000 == pytest.approx(theirs, rel=1e-3)


@pytest.mark.parametrize(
    ("kg_m3", "factor"),
    # OIML D 28 / R 111-1: conventional mass, weights of 8000 kg/m³ in air of 1.2 kg/m³.
    [(1050, 1.0009942), (100, 1.0119939), (50, 1.0244365), (30, 1.0415104)],
)
def test_a_light_thing_is_heavier_than_the_scale_reads(kg_m3, factor):
    assert buoyancy_factor(kg_m3 / 1000) == pytest.approx(factor, abs=2e-6)
    assert pytest.approx(0.0012) == AIR_G_CM3


def test_a_cavity_is_larger_than_one_gram_a_millilitre_says():
    # Constructed from Metrologia 38 (2001) and conventional mass: 438.2 g of water at 22 °C.
    net = 438.2
    assert net / water_density(22) == pytest.approx(439.178, abs=0.002)
    assert volume_by_filling(net, Bath(22), u_g=0.06).value == pytest.approx(439.641, abs=0.002)


def test_an_immersed_solid_has_the_published_specific_gravity():
    # ASTM D792 method A without a wire: a/(a - b) with a = 22.0 g in air, b = 2.1 g in water, 23 °C.
    solid = immersed_hanging(22.0, 2.1, Bath(23), u_g=0.01)
    assert solid.specific_gravity == pytest.approx(1.105528, abs=1e-6)
    assert immersed_on_pan(22.0, 19.9, Bath(23), u_g=0.01).specific_gravity == pytest.approx(1.105528, abs=1e-6)
    # The standard takes 997.5 kg/m³ for water at 23 °C (Metrologia 38 (2001): 997.541) and leaves the air out.
    assert solid.specific_gravity * 0.9975 == pytest.approx(1.102764, abs=1e-6)
    airless = immersed_hanging(22.0, 2.1, Bath(23, air=0.0), u_g=0.01)
    assert airless.density.value == pytest.approx(1.102764 * 0.997541 / 0.9975, abs=2e-6)
    # With the air: ISO 1183-1 corrects by (1 - 1/specific gravity) times the air's density, 0.0001 g/cm³ here.
    assert airless.density.value - solid.density.value == pytest.approx(0.0012 * (1.105528 - 1), abs=1e-6)
