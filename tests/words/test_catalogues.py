"""The catalogues are up to date with the code, complete where they claim to be, and fill in the same places."""

import pytest
from babel.messages.catalog import Catalog

from tests.words.gathered import COMPLETE, LOCALE, as_mo, as_po, gathered, kept, places_in, renewed, texts_of

CODES = sorted(file.parent.name for file in LOCALE.glob("*/station.po"))
TELL = "run `python -m tests.words`, then translate what it lists in"


@pytest.fixture(scope="module")
def german() -> Catalog:
    return kept("de")


def lacking(catalogue: Catalog) -> list[object]:
    return [one.id for one in catalogue if one.id and not all(texts_of(one)[1])]


def astray(catalogue: Catalog) -> list[object]:
    """Texts whose translation has other places or tags than the English one, or loses a space at an end."""
    wrong = []
    for one in catalogue:
        here, there = texts_of(one)
        if not one.id or not all(there):
            continue
        # One and many may differ: "one cast" fills in nothing.
        meant = set().union(*map(places_in, here))
        strange = any(places_in(text) - meant for text in there) or places_in(there[-1]) != places_in(here[-1])
        edges = {(text[:1].isspace(), text[-1:].isspace()) for text in (*here, *there)}
        if strange or len(edges) > 1:
            wrong.append(one.id)
    return wrong


@pytest.mark.parametrize("code", CODES)
def test_a_catalogue_holds_the_texts_of_the_code_and_no_others(code):
    assert as_po(renewed(code)) == (LOCALE / code / "station.po").read_bytes(), f"{TELL} station/locale/{code}"


@pytest.mark.parametrize("code", CODES)
def test_what_the_station_reads_was_compiled_from_what_translators_edit(code):
    assert as_mo(kept(code)) == (LOCALE / code / "station.mo").read_bytes(), TELL


@pytest.mark.parametrize("code", COMPLETE)
def test_a_language_that_is_called_complete_lacks_nothing(code):
    assert lacking(kept(code)) == [], f"{TELL} station/locale/{code}/station.po"


@pytest.mark.parametrize("code", CODES)
def test_every_translation_fills_in_the_same_places(code):
    assert astray(kept(code)) == []


def test_a_lacking_text_and_a_lost_place_are_found(german):
    german.add("a text of nobody")
    german.add("{n} of {many}", string="{n} von vielen")
    german.add(("{n} part", "{n} parts"), string=("ein Teil", "{m} Teile"))
    german.add(" A sentence that follows.", string="Ein Satz, der folgt.")
    assert lacking(german) == ["a text of nobody"]
    assert astray(german) == ["{n} of {many}", ("{n} part", "{n} parts"), " A sentence that follows."]


def test_texts_are_found_in_code_and_in_templates():
    found = {one.id for one in gathered()}
    assert "." in found
