"""Units against published factors, and against the pint package as an independent hand.

Sources: NIST Special Publication 811 (2008), appendix B.8, and NIST Handbook 44, appendix C. Avoirdupois and troy
masses, inch, foot and both gallons are exact by definition.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.casting.units import (
    CM3,
    DENSITIES,
    GRAMS,
    MM,
    SECONDS,
    SPECIFIC_VOLUMES,
    celsius_of,
    cm3_per_gram,
    fahrenheit_of,
    grams_per_cm3,
)
from station.metrology.water import water_density
from station.quantities import celsius, density, length, mass, seconds, volume

PINT = pint.UnitRegistry(non_int_type=Fraction)

PINTS_NAMES = {
    "mg": "mg", "g": "g", "kg": "kg", "oz": "oz", "lb": "lb", "ozt": "troy_ounce", "dwt": "pennyweight",
    "grain": "grain",
    "mm³": "mm**3", "cm³": "cm**3", "ml": "ml", "cl": "cl", "dl": "dl", "l": "l", "m³": "m**3", "in³": "inch**3",
    "ft³": "foot**3", "yd³": "yard**3", "US fl oz": "US_fluid_ounce", "US tsp": "teaspoon", "US tbsp": "tablespoon",
    "US cup": "cup", "US pt": "pint", "US qt": "quart", "US gal": "gallon", "imp fl oz": "imperial_fluid_ounce",
    "imp pt": "imperial_pint", "imp qt": "imperial_quart", "imp gal": "imperial_gallon",
    "mm": "mm", "cm": "cm", "m": "m", "in": "inch", "ft": "foot", "yd": "yard",
    "s": "second", "min": "minute", "h": "hour", "d": "day",
}  # fmt: skip


@pytest.mark.parametrize(
    ("worth", "base"), [(GRAMS, "g"), (CM3, "cm**3"), (MM, "mm"), (SECONDS, "second")], ids=["g", "cm3", "mm", "s"]
)
def test_every_unit_is_worth_what_pint_says_exactly(worth: dict[str, Decimal], base: str) -> None:
    for name, factor in worth.items():
        theirs = PINT.Quantity(Fraction(1), PINTS_NAMES[name]).to(base).magnitude
        assert Fraction(factor) == theirs, name


def _quotient(unit: str) -> str:
    over, _, under = unit.partition("/")
    return f"{PINTS_NAMES[over]}/({PINTS_NAMES[under]})"


def test_every_density_and_specific_volume_is_worth_what_pint_says() -> None:
    for unit in DENSITIES:
        assert grams_per_cm3(unit) == PINT.Quantity(Fraction(1), _quotient(unit)).to("g/cm**3").magnitude, unit
    for unit in SPECIFIC_VOLUMES:
        assert cm3_per_gram(unit) == PINT.Quantity(Fraction(1), _quotient(unit)).to("cm**3/g").magnitude, unit


@pytest.mark.parametrize("unit", ["lb", "in³/lb", "lb/lb", "lb/stone", ""])
def test_what_is_no_density_has_no_worth(unit: str) -> None:
    with pytest.raises(KeyError):
        grams_per_cm3(unit)


@pytest.mark.parametrize(
    ("ours", "published"),
    [
        # All exact by definition: NIST SP 811 (2008) appendix B; NIST Handbook 44 appendix C.
        (GRAMS["grain"] * 1000, "64.79891"),  # mg
        (GRAMS["ozt"], "31.1034768"),
        (GRAMS["dwt"], "1.55517384"),
        (MM["in"], "25.4"),
        (MM["ft"], "304.8"),
        (CM3["in³"], "16.387064"),
        (CM3["ft³"] / 1000, "28.316846592"),  # l
        (CM3["US fl oz"], "29.5735295625"),
        (CM3["US cup"], "236.5882365"),
        (CM3["US qt"], "946.352946"),
        (CM3["US tsp"], "4.92892159375"),
        (CM3["imp fl oz"], "28.4130625"),
        (CM3["imp gal"] / 1000, "4.54609"),  # l
        (CM3["ft³"] / CM3["in³"], "1728"),
        (GRAMS["lb"], "453.59237"),
        (GRAMS["oz"], "28.349523125"),
    ],
)
def test_exact_units_have_their_published_worth(ours: Decimal, published: str) -> None:
    assert ours == Decimal(published)


@pytest.mark.parametrize(
    ("unit", "kg_per_m3"),
    [
        # NIST SP 811 (2008) appendix B: endless decimals, here to the digits that pint 0.25.3 prints.
        ("lb/ft³", 16.01846337396),
        ("lb/US gal", 119.826427316897),
        ("lb/in³", 27679.904710203),
        ("kg/m³", 1.0),
    ],
)
def test_densities_have_their_published_worth(unit: str, kg_per_m3: float) -> None:
    assert float(grams_per_cm3(unit) * 1000) == pytest.approx(kg_per_m3, rel=1e-12)
    assert density(f"1 {unit}") * 1000 == pytest.approx(kg_per_m3, rel=1e-12)


def test_a_kilogram_per_cubic_metre_is_a_sixteenth_of_a_pound_per_cubic_foot() -> None:
    # NIST SP 811 (2008) appendix B, inverse of 16.018 463 kg/m³.
    assert float(grams_per_cm3("kg/m³") / grams_per_cm3("lb/ft³")) == pytest.approx(0.062427960576145, rel=1e-12)


@pytest.mark.parametrize(("pounds", "kg_per_m3"), [(4, 64.07385), (6, 96.11078), (10, 160.18463), (16, 256.29541)])
def test_foam_names_in_pounds_are_densities_per_cubic_foot(pounds: int, kg_per_m3: float) -> None:
    # Derived from the published factor (NIST SP 811 appendix B), five decimals.
    assert density(f"{pounds} lb/ft3") * 1000 == pytest.approx(kg_per_m3, abs=1e-4)


def test_specific_volume_is_the_inverse_of_density() -> None:
    # 27.679 904 71 / 25, derived from the published factor (NIST SP 811 appendix B).
    assert density("25 in3/lb") == pytest.approx(1.107196188, abs=1e-8)


def test_a_fluid_ounce_of_water_is_heavier_than_an_ounce() -> None:
    # Constructed: NIST SP 811 factor times the density of water at 20 °C (Metrologia 38 (2001)).
    grams = volume("1 US fl oz") * water_density(20)
    assert grams == pytest.approx(29.5205, abs=0.001)
    assert grams / mass("1 oz").g == pytest.approx(1.0413, abs=1e-4)


@pytest.mark.parametrize(
    ("fahrenheit", "expected"),
    [
        # NIST SP 811 (2008) appendix B: t/°C = (t/°F - 32)/1.8.
        (-40, -40.0), (32, 0.0), (60, 15.5555555556), (65, 18.3333333333), (68, 20.0), (77, 25.0),
        (125, 51.6666666667), (150, 65.5555555556), (176, 80.0), (212, 100.0),
    ],
)  # fmt: skip
def test_fahrenheit_in_celsius_as_published_and_as_pint_says(fahrenheit: int, expected: float) -> None:
    assert celsius(f"{fahrenheit} °F") == pytest.approx(expected, abs=1e-9)
    theirs = pint.UnitRegistry().Quantity(fahrenheit, "degF").to("degC").magnitude
    assert celsius(f"{fahrenheit} °F") == pytest.approx(theirs, abs=1e-9)


@given(st.fractions(-500, 1000))
def test_fahrenheit_and_back_is_the_same_temperature(degrees: Fraction) -> None:
    assert fahrenheit_of(celsius_of(degrees)) == degrees


numbers = st.decimals(min_value="0.001", max_value="900", places=3)


@given(numbers, st.sampled_from(sorted(CM3)))
def test_a_typed_volume_comes_back_from_cubic_centimetres(number: Decimal, unit: str) -> None:
    assert volume(f"{number} {unit}") / float(CM3[unit]) == pytest.approx(float(number), rel=1e-12)


@given(numbers, st.sampled_from(sorted(MM)))
def test_a_typed_length_comes_back_from_millimetres(number: Decimal, unit: str) -> None:
    assert length(f"{number} {unit}") / float(MM[unit]) == pytest.approx(float(number), rel=1e-12)


@given(numbers, st.sampled_from(sorted(SECONDS)))
def test_a_typed_time_comes_back_from_seconds(number: Decimal, unit: str) -> None:
    assert seconds(f"{number} {unit}") / float(SECONDS[unit]) == pytest.approx(float(number), rel=1e-12)


@given(numbers, st.sampled_from(sorted(GRAMS)))
def test_a_typed_mass_is_the_nearest_milligram(number: Decimal, unit: str) -> None:
    assert abs(mass(f"{number} {unit}").mg - number * GRAMS[unit] * 1000) <= Decimal("0.5")


@given(numbers, st.sampled_from(sorted(GRAMS)), st.sampled_from(sorted(CM3)))
def test_a_density_and_its_specific_volume_are_one(number: Decimal, mass_unit: str, volume_unit: str) -> None:
    straight = density(f"{number} {mass_unit}/{volume_unit}")
    inverse = density(f"{number} {volume_unit}/{mass_unit}")
    assert straight * inverse == pytest.approx(float(grams_per_cm3(f"{mass_unit}/{volume_unit}") ** 2), rel=1e-9)
