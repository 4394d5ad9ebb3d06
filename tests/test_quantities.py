"""Quantities as a person types them: exact where a unit is exact, and a sentence where the text is no quantity."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.core.mass import Mass
from station.errors import SettingsError
from station.languages import begin_to_speak
from station.quantities import NotAQuantity, celsius, density, length, mass, percent, seconds, some_mass, volume

EVERY: tuple[Callable[[object], object], ...] = (
    mass,
    some_mass,
    seconds,
    celsius,
    density,
    percent,
    volume,
    length,
)


@pytest.mark.parametrize(
    ("typed", "mg"),
    [
        ("62.4 g", 62_400),
        ("62,4 g", 62_400),
        ("  3kg ", 3_000_000),
        ("0.125 g", 125),
        ("0,125 g", 125),
        ("250 mg", 250),
        ("1500 g", 1_500_000),
        # NIST SP 811 (2008), Appendix B: 1 lb = 0.453 592 37 kg exactly; 1 oz = 1/16 lb.
        ("1 lb", 453_592),
        ("16 oz", 453_592),
        ("1000 lb", 453_592_370),
    ],
)
def test_a_mass_is_read_to_the_milligram(typed: str, mg: int) -> None:
    assert mass(typed) == Mass(mg)


@given(st.integers(min_value=0, max_value=10**7))
def test_grams_written_with_point_or_comma_come_back_exactly(mg: int) -> None:
    written = str(Decimal(mg) / 1000)
    assert mass(f"{written} g") == Mass(mg)
    tenths = f"{mg // 10},{mg % 10} g"
    assert mass(tenths) == Mass(mg * 100)


@pytest.mark.parametrize("number", ["1,500", "12,000", "-1,500", "999,999"])
def test_a_comma_that_may_part_thousands_is_asked_about_and_not_guessed(number: str) -> None:
    with pytest.raises(NotAQuantity, match="without the comma") as refused:
        mass(f"{number} g")
    assert number.replace(",", "") in str(refused.value)
    assert number.replace(",", ".") in str(refused.value)


def test_a_mass_beyond_any_bench_is_refused() -> None:
    assert mass("1000 kg") == Mass(10**9)
    for typed in ("1000.001 kg", "9" * 40 + " g", "-2000 kg"):
        with pytest.raises(NotAQuantity, match="more than a bench holds"):
            mass(typed)


@pytest.mark.parametrize("typed", ["0 g", "-1 g", "0.0001 g"])
def test_a_mass_that_must_be_some_is_not_nothing(typed: str) -> None:
    with pytest.raises(NotAQuantity, match="above zero"):
        some_mass(typed)
    assert some_mass("1 mg") == Mass(1)


@pytest.mark.parametrize(
    ("typed", "expected"),
    [("50 s", 50.0), ("0.5 s", 0.5), ("20 min", 1200.0), ("1,5 h", 5400.0), ("16 h", 57_600.0), ("3 d", 259_200.0)],
)
def test_a_time_is_read_in_seconds(typed: str, expected: float) -> None:
    assert seconds(typed) == expected


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("23 °C", 23.0),
        ("23°C", 23.0),
        ("-5 C", -5.0),
        # NIST SP 811 (2008), Appendix B: t/°C = (t/°F − 32)/1.8.
        ("73.4 °F", 23.0),
        ("212 F", 100.0),
        ("-40 °F", -40.0),
    ],
)
def test_a_temperature_is_read_in_celsius(typed: str, expected: float) -> None:
    assert celsius(typed) == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize("typed", ["1.06 g/cm3", "1,06 g/cm³", "1.06 g/ml", "1060 kg/m3", "1060 kg/m³"])
def test_a_density_is_the_same_in_every_unit(typed: str) -> None:
    assert density(typed) == pytest.approx(1.06, abs=1e-12)


def test_a_percentage_needs_its_sign() -> None:
    assert percent("2 %") == percent("2%") == 2.0
    assert percent("1,5 %") == 1.5
    with pytest.raises(NotAQuantity, match="percentage with its sign"):
        percent("2")


@pytest.mark.parametrize("convert", EVERY, ids=lambda convert: convert.__name__)
@pytest.mark.parametrize(
    "value", [62.4, 3, True, None, [], {}, "", "g", "62.4", "1.2.3 g", "1e3 g", "nan g", "inf s", "5 stone", "2 % %"]
)
def test_what_has_no_number_or_no_known_unit_is_refused_with_an_example(
    convert: Callable[[object], object], value: object
) -> None:
    with pytest.raises(NotAQuantity, match="such as") as refused:
        convert(value)
    assert repr(value) in str(refused.value)


@pytest.mark.parametrize("convert", EVERY, ids=lambda convert: convert.__name__)
@given(
    value=st.one_of(st.text(max_size=30), st.integers(), st.floats(), st.from_regex(r"[+-]?\d{1,400}[.,]?\d* ?(g|s)"))
)
def test_no_value_whatever_ends_in_anything_but_a_quantity_or_a_sentence(
    convert: Callable[[object], object], value: object
) -> None:
    assert isinstance(_taken(convert, value), Mass | float | str)


def _taken(convert: Callable[[object], object], value: object) -> object:
    """The quantity, or the sentence that refuses it; anything else is raised."""
    try:
        return convert(value)
    except SettingsError as refused:
        return refused.sentence()


def test_where_the_station_writes_commas_a_comma_before_three_digits_is_a_decimal_one():
    begin_to_speak("de")
    try:
        assert mass("1,234 g") == Mass(1234)
        assert mass("1.234 g") == Mass(1234)
    finally:
        begin_to_speak("en")
    with pytest.raises(SettingsError, match="may mean 1234"):
        mass("1,234 g")
