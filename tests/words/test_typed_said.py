"""What is said of a quantity, a sheet or a plan that was typed wrong is said through the catalogue."""

import re
import tomllib

import pytest

from station import quantities, sheet_tables
from station.errors import SettingsError
from station.languages import begin_to_speak
from station.reading import Reader
from tests.words.speaking import Marked, spoken
from tests.words.unsaid import unsaid

SORTS = (
    *(quantities.mass, quantities.volume, quantities.length, quantities.seconds),
    *(quantities.celsius, quantities.density, quantities.percent),
)
TYPED = ("a lot", "5", "9e9", "1,500 g", "5 fl oz", "5 oz", "6 lb", "5 cup", "2000 t", "99999999999999 %")
SHEET = """
key = ""
title = 5
basis = "by wieght"
tolerance = "90 %"
weigh_order = ["A"]
ready = "gloves"
cautions = ["x"]
example = "yes"
cling = 1
pour_into = "C"
density = "96 g/cm3"
colour = "red"
titel = "x"
component = [
  { name = "A", parts = -1, isocyanate = 1, oh = 9000, nco = "16 oz" },
  { name = "total", parts = 1, oh = "x" },
  { name = "A", parts = 1 },
]
times = { pot_life = "9 min", mix = "8 min", pour_reserve = "2 min", demold = "1 h", reference = "23 °C" }
foam = { packing_low = 2, packing_high = 1.5 }
kit = [{ title = "Kit", price = 32.5 }]
additive = [{ name = "pigment" }]
"""
WORDS_OF_THE_SHEET = (
    *("by wieght", "by weight", "by volume", "90 %", "gloves", "yes", "96 g/cm3", "red", "titel", "16 oz", "total"),
    *("key", "title", "basis", "tolerance", "weigh_order", "ready", "cautions", "example", "cling", "pour_into"),
    *("density", "colour", "component", "name", "parts", "isocyanate", "oh", "nco", "times", "foam", "packing_low"),
    *("packing_high", "kit", "price", "additive", "pigment", "percent", "True", "False", "true", "sheet.toml"),
)


def refusals() -> list[str]:
    """Everything that the sorts of quantity say of texts that are none, with and without a unit that is meant."""
    found = []
    for read in SORTS:
        for typed in TYPED:
            for bare in (None, "g"):
                try:
                    read(typed, bare=bare)
                except SettingsError as wrong:
                    found += wrong.problems
    return found


def problems_of(sheet: str) -> list[str]:
    found: list[str] = []
    sheet_tables.material(Reader(tomllib.loads(sheet), "sheet.toml", found))
    return found


def test_every_refusal_of_a_quantity_is_said():
    with spoken(Marked()):
        found = refusals()
    assert len(found) > 80
    assert [said for said in found if not re.fullmatch(r"(⟦.*⟧ ?)+", said)] == []


def test_every_problem_of_a_sheet_is_said():
    with spoken(Marked()):
        found = problems_of(SHEET)
    assert len(found) > 20
    known = sorted(WORDS_OF_THE_SHEET, key=len, reverse=True)
    assert [said for said in found if unsaid(f"<p>{said}</p>", known)] == []


def test_the_key_of_times_out_of_order_is_the_same_in_every_language():
    times = SHEET.replace('"1 h"', '"2 min"')
    keys = {tuple(sorted(problem.key for problem in problems_of(times)))}
    with spoken(Marked()):
        keys.add(tuple(sorted(problem.key for problem in problems_of(times))))
    assert len(keys) == 1


@pytest.mark.parametrize(("typed", "grams"), [("62,4 g", 62.4), ("1.5 kg", 1500.0)])
def test_in_german_a_mass_is_read_with_either_mark_and_refused_in_german(typed, grams):
    begin_to_speak("de")
    try:
        assert quantities.grams(typed) == grams
        with pytest.raises(SettingsError, match=r"'viel' ist keine Masse mit Einheit, etwa „62,4 g“"):
            quantities.grams("viel")
    finally:
        begin_to_speak("en")
