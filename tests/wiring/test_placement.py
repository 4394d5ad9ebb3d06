"""The drawing of where things stand: legible in each language, with a number for each note."""

from gettext import GNUTranslations, NullTranslations
from importlib.resources import files
from pathlib import Path

import pytest

from station.drawing.svg import svg
from station.wiring.placement import NOTES, placed
from tests.wiring import sheet
from tests.words.speaking import spoken

HARDWARE = Path(__file__).resolve().parents[2] / "hardware"


def catalogue(code: str) -> NullTranslations:
    if code == "en":
        return NullTranslations()
    with (files("station") / "locale" / code / "station.mo").open("rb") as opened:
        return GNUTranslations(opened)


@pytest.mark.parametrize("code", ["en", "de"])
def test_no_label_lies_on_another_on_a_line_or_outside(code):
    with spoken(catalogue(code), code):
        drawing = placed()
    assert sheet.overlaps(drawing) == []
    assert sheet.outside(drawing) == []
    assert sheet.struck(drawing, ()) == []


def test_each_note_has_its_number_twice_before_its_words_and_in_the_drawing():
    texts = sheet.texts(placed())
    assert [texts.count(str(number)) for number in range(1, len(NOTES) + 1)] == [2] * len(NOTES)
    assert all(note in texts for note in NOTES)


def test_the_drawing_in_the_tree_is_the_one_that_is_made():
    kept = (HARDWARE / "placement.svg").read_text("utf-8")
    assert kept == svg(placed(), standalone=True) + "\n", "write it again: tarebell wiring --placement"
