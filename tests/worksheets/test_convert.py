"""The worksheet of units as a person fills it in."""

import re

import pytest

from station.worksheets.convert import WORKSHEETS
from station.worksheets.filling import NotFilledIn, worked

(CONVERT,) = WORKSHEETS


@pytest.mark.parametrize(
    ("typed", "sort", "unit", "value"),
    [
        # NIST SP 811 (2008) appendix B; NIST Handbook 44 appendix C.
        ("2 oz", "mass", "g", 56.69904625),
        ("2 oz", "mass", "oz", 2.0),
        ("1 lb 4 oz", "mass", "oz", 20.0),
        ("2 US fl oz", "volume", "ml", 59.147059125),
        ("1 imp gal", "volume", "imp fl oz", 160.0),
        ("1 ft3", "volume", "in³", 1728.0),
        ("1 1/2 in", "length", "mm", 38.1),
        ("6 lb/ft3", "density", "kg/m³", 96.1107802),
        ("25 in3/lb", "density", "g/cm³", 1.107196188),
        ("1.107196188 g/cm3", "density", "in³/lb", 25.0),
        ("73.4 °F", "temperature", "°C", 23.0),
        ("23 °C", "temperature", "K", 296.15),
        ("-40 °C", "temperature", "°F", -40.0),
        ("90 min", "time", "h", 1.5),
    ],
)
def test_any_quantity_is_told_in_all_units_of_its_sort(typed, sort, unit, value):
    figures = worked(CONVERT, {"quantity": typed}).figures
    assert figures["sort"] == sort
    assert figures["in"][unit] == pytest.approx(value, rel=1e-8)


def test_rows_say_what_one_unit_is_worth():
    rows = {row.label: row for row in worked(CONVERT, {"quantity": "2 oz"}).rows}
    assert rows["oz"].value == "2"
    assert rows["g"].value == "56.69905"
    assert rows["lb"].rule == "1 lb = 453.59237 g"


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("2 oz", "a fluid ounce .* is a volume"),
        ("2 US fl oz", "An ounce .* is a mass"),
        ("6 lb", "names of foams"),
        ("1 troy oz", "troy ounce"),
    ],
)
def test_what_is_easily_mistaken_is_warned_of(typed, told):

    (warning,) = worked(CONVERT, {"quantity": typed}).warnings
    assert re.search(told, warning)
    assert not worked(CONVERT, {"quantity": "2 g"}).warnings


def test_a_density_leads_from_mass_to_volume_and_back():
    there = worked(CONVERT, {"quantity": "110 g", "density": "1.1"})
    assert there.rows[0].value == "100 cm³"
    assert there.figures["volume_cm3"] == pytest.approx(100)
    back = worked(CONVERT, {"quantity": "100 ml", "density": "1.1 g/cm3"})
    assert back.rows[0].rule == "100 cm³ × 1.1 g/cm³"
    assert back.figures["mass_g"] == pytest.approx(110)


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("2 fl oz", "US or the imperial one"),
        ("3 gal", "US or the imperial one"),
        ("1,500 g", "may mean 1500 or 1.500"),
        ("9999999999 g", "more than a bench holds"),
        ("0 in3/lb", "above zero"),
        ("5", "unit that is known here"),
        ("five oz", "unit that is known here"),
        ("5 stone", "unit that is known here"),
    ],
)
def test_what_cannot_be_converted_is_a_sentence(typed, told):
    with pytest.raises(NotFilledIn, match=told):
        worked(CONVERT, {"quantity": typed})
    with pytest.raises(NotFilledIn, match="density must be above zero"):
        worked(CONVERT, {"quantity": "5 g", "density": "0"})
