"""Quantities that trades and countries spell in ways that are easily mistaken: ounces, gallons, inches, foam pounds."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from station.core.mass import Mass
from station.quantities import NotAQuantity, celsius, density, length, mass, percent, seconds, some_mass, volume


@pytest.mark.parametrize(
    ("typed", "mm"),
    [
        ("120 mm", 120.0),
        ("12,5 cm", 125.0),
        # NIST Handbook 44, Appendix C: 1 in = 25.4 mm exactly, 1 ft = 12 in.
        ("1 1/2 in", 38.1),
        ("1-1/2 in", 38.1),
        ('3/4"', 19.05),
        ("3/4 ″", 19.05),
        ("½ in", 12.7),
        ("1½ inches", 38.1),
        ("1 ½in.", 38.1),
        (".5 in", 12.7),
        ("-1/2 in", -12.7),
        ("1 ft", 304.8),
        ("5' 3\"", 1600.2),
        ("5 ft 3 1/2 in", 1612.9),
        ("5'-3\"", 1600.2),
        ("2 yd", 1828.8),
    ],
)
def test_a_length_is_read_with_fractions_of_an_inch_and_with_feet(typed: str, mm: float) -> None:
    assert length(typed) == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize("typed", ["1/0 in", "1 3/2 in", "5' 3", "3' 4' 5\"", "1 2 in", "3 mm 4 in", "1/2", "- 1 in"])
def test_a_length_that_is_written_wrongly_is_not_guessed(typed: str) -> None:
    with pytest.raises(NotAQuantity, match="such as"):
        length(typed)


@pytest.mark.parametrize(
    ("typed", "cm3"),
    [
        *((f"150 {unit}", 150.0) for unit in ("ml", "mL", "ML", "cm3", "cm³", "cm^3", "cc", "cubic centimetres")),
        ("150000 mm3", 150.0),
        ("1,5 l", 1500.0),
        ("1.5 Litres", 1500.0),
        # NIST Handbook 44, Appendix C: 1 US gal = 231 in³; 1 imperial gallon = 4.54609 l (NIST SP 811 B.8).
        *((f"1 {unit}", 29.5735295625) for unit in ("US fl oz", "fl oz us", "us fl. oz.", "fl oz (US)", "U.S. fl oz")),
        *((f"1 {unit}", 29.5735295625) for unit in ("usfloz", "US fluid ounce", "American fluid ounces")),
        *((f"1 {unit}", 28.4130625) for unit in ("imp fl oz", "fl oz imp", "imperial fluid ounce", "UK fl oz")),
        ("2 1/2 US cups", 591.47059125),
        ("1 us gal", 3785.411784),
        ("1 gallon (imp)", 4546.09),
        *((f"1 {unit}", 16.387064) for unit in ("in3", "in³", "cu in", "cu. in.", "cubic inch")),
        ("1 ft³", 28316.846592),
        ("1 cu ft", 28316.846592),
    ],
)
def test_a_volume_is_read_in_every_spelling(typed: str, cm3: float) -> None:
    assert volume(typed) == pytest.approx(cm3, rel=1e-12)


@pytest.mark.parametrize("convert", [mass, some_mass])
@pytest.mark.parametrize("typed", ["2 fl oz", "2 US fl oz", "2 imp fl oz", "2 fluid ounces"])
def test_a_fluid_ounce_is_not_taken_for_a_mass(convert: Callable[[object], object], typed: str) -> None:
    with pytest.raises(NotAQuantity, match=r"An ounce \(oz\) is a mass.* a fluid ounce \(fl oz\) is a volume.*Weigh"):
        convert(typed)


@pytest.mark.parametrize("typed", ["2 oz", "2 ounces", "2 OZ"])
def test_an_ounce_is_not_taken_for_a_volume(typed: str) -> None:
    with pytest.raises(NotAQuantity, match=r"a fluid ounce \(fl oz\) is a volume.*Write US fl oz, imp fl oz or ml"):
        volume(typed)


@pytest.mark.parametrize("unit", ["fl oz", "fluid ounce", "gal", "qt", "pint", "cups", "tbsp"])
def test_a_volume_that_differs_between_countries_is_asked_about(unit: str) -> None:
    with pytest.raises(NotAQuantity, match=r"Say whether .* the US or the imperial one"):
        volume(f"2 {unit}")


@pytest.mark.parametrize("typed", ["1 us imp fl oz", "1 us mm", "1 us ml", "1 imperial cup", "1 us"])
def test_a_volume_of_no_country_or_of_two_is_refused(typed: str) -> None:
    with pytest.raises(NotAQuantity, match="not a volume"):
        volume(typed)


def test_mass_and_volume_are_told_apart_in_words() -> None:
    with pytest.raises(NotAQuantity, match="ml is a unit of volume: weigh it"):
        mass("100 ml")
    with pytest.raises(NotAQuantity, match="g is a unit of mass: measure the volume"):
        volume("100 g")


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        # NIST SP 811 (2008), B.8: 1 lb/ft³ = 16.018 46 kg/m³, 1 lb/gal (US) = 119.826 4 kg/m³,
        # 1 lb/in³ = 27 679.90 kg/m³; a specific volume of 25 in³/lb is the inverse of the last, divided by 25.
        ("6 lb/ft3", 0.0961107802),
        ("6 lbs / cu ft", 0.0961107802),
        ("6 pounds per cubic foot", 0.0961107802),
        ("6 pcf", 0.0961107802),
        ("10 lb/gal", 1.19826427317),
        ("10 lb/US gal", 1.19826427317),
        ("10 lb/imp gal", 0.997763726631),
        ("1 lb/in³", 27.6799047102),
        ("25 in3/lb", 1.10719618841),
        ("25 cu in per lb", 1.10719618841),
        ("0.5 cm3/g", 2.0),
        ("1.06 kg/l", 1.06),
        ("1.06 g/cc", 1.06),
    ],
)
def test_a_density_is_read_also_in_pounds_and_as_specific_volume(typed: str, expected: float) -> None:
    assert density(typed) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("typed", ["6 lb", "6 lbs", "6 pound"])
@pytest.mark.parametrize("bare", [None, "g/cm3"])
def test_the_pound_of_a_foams_name_is_explained_and_not_taken(typed: str, bare: str | None) -> None:
    with pytest.raises(NotAQuantity, match="pounds per cubic foot: write lb/ft3"):
        density(typed, bare=bare)


@pytest.mark.parametrize("typed", ["0 in3/lb", "-25 in3/lb"])
def test_a_specific_volume_of_nothing_is_refused(typed: str) -> None:
    with pytest.raises(NotAQuantity, match="above zero"):
        density(typed)


def test_a_form_refuses_a_density_that_no_metal_has() -> None:
    assert density("22.6", bare="g/cm3") == pytest.approx(22.6)
    assert density("96", bare="kg/m3") == pytest.approx(0.096)
    with pytest.raises(NotAQuantity, match="denser than any metal"):
        density("96", bare="g/cm3")


def test_masses_and_times_may_be_told_in_two_units() -> None:
    assert mass("1 lb 4 oz") == Mass(566_990)  # 20 oz of 28.349 523 125 g
    assert mass("1/2 lb") == Mass(226_796)
    assert seconds("1 h 30 min") == 5400.0
    assert seconds("2 min 5 s") == 125.0
    for typed in ("4 oz 1 lb", "1 kg 4 oz", "-1 lb 4 oz"):
        with pytest.raises(NotAQuantity, match="not a mass"):
            mass(typed)


BARE: tuple[tuple[Callable[..., object], str, object], ...] = (
    (mass, "g", Mass(12_500)),
    (some_mass, "oz", Mass(354_369)),
    (seconds, "min", 750.0),
    (celsius, "°C", 12.5),
    (celsius, "°F", pytest.approx(-10.8333333333)),
    (density, "g/cm3", 12.5),
    (density, "lb/ft3", pytest.approx(0.200230792)),
    (percent, "%", 12.5),
    (volume, "cm3", 12.5),
    (volume, "US fl oz", pytest.approx(369.669119531)),
    (length, "mm", 12.5),
    (length, "in", 317.5),
)


@pytest.mark.parametrize(("convert", "bare", "expected"), BARE)
def test_a_form_may_say_which_unit_a_plain_number_has(
    convert: Callable[..., object], bare: str, expected: object
) -> None:
    assert convert("12.5", bare=bare) == expected
    assert convert("12 1/2", bare=bare) == expected
    with pytest.raises(NotAQuantity):
        convert("12.5")
    with pytest.raises(NotAQuantity, match=f"without a unit {bare} is meant"):
        convert("12.5 stone", bare=bare)


def test_a_unit_that_is_typed_wins_over_the_one_that_a_form_means() -> None:
    assert mass("1 oz", bare="g") == Mass(28_350)
    assert length("1 in", bare="mm") == pytest.approx(25.4)
    with pytest.raises(NotAQuantity, match="fluid ounce"):
        mass("1 fl oz", bare="g")


@pytest.mark.parametrize("convert", [volume, length, density, seconds, celsius, percent])
def test_a_number_beyond_all_measure_is_a_sentence(convert: Callable[..., object]) -> None:
    units = {volume: "l", length: "m", density: "g/cm3", seconds: "d", celsius: "°C", percent: "%"}
    with pytest.raises(NotAQuantity, match=r"is (more|longer|denser|hotter)"):
        convert("9" * 30 + " " + units[convert])
