"""What is typed into a form becomes the sheet that was meant, and a sheet becomes what was typed for it."""

import tomllib
from datetime import date

import pytest
import tomlkit
from hypothesis import given
from hypothesis import strategies as st

from station.core.mass import Mass
from station.core.material import (
    Lot,
)
from station.core.review import review
from station.core.sheet_words import sheet_words
from station.errors import SettingsError
from station.reading import Reader
from station.sheet_desk import SheetDesk
from station.sheet_form.fields import LOT, MATERIAL
from station.sheet_form.form import field
from station.sheet_form.slips import Slips, placed
from station.sheet_form.writing import typed_from, written
from station.sheet_tables import lot, material
from tests.made_materials import materials, typing
from tests.typed_forms import FOAM, LOT_A

NAMES = [field(g, e, n) for g in MATERIAL for n in range(1, g.times + 1) for e in g.entries]


def sheet_of(groups, typed):
    """The table as a file would hold it."""
    document = tomlkit.document()
    many = tomlkit.aot()
    many.append(written(groups, typed))
    document.add("x", many)
    return tomllib.loads(tomlkit.dumps(document))["x"][0]


def read(table, reads):
    problems = []
    found = reads(Reader(table, "form", problems))
    return found, problems


@given(materials())
def test_a_material_typed_into_the_form_is_read_as_it_was_meant(meant):
    typed = typing(meant)
    assert set(typed) <= set(NAMES)
    table = sheet_of(MATERIAL, typed)
    found, problems = read(table, material)
    assert problems == []
    assert found == meant
    assert sheet_of(MATERIAL, typed_from(MATERIAL, table)) == table
    told = review(found)
    assert all(said.strip() for said in (*told.contradictions, *told.unknown, *told.advice))
    assert all(label and words for label, words in sheet_words(found))


def test_a_lot_typed_into_the_form_is_read_as_it_was_meant():
    found, problems = read(sheet_of(LOT, LOT_A | {"empty": "240 g", "best_before": "2027-01-31"}), lot)
    assert problems == []
    assert found == Lot(
        "A", "T-1", Mass.grams(1200), "test-foam", Mass.grams(240), date(2026, 3, 14), date(2027, 1, 31)
    )


@given(st.dictionaries(st.sampled_from(NAMES), st.text(max_size=40), max_size=20))
def test_every_slip_of_a_form_full_of_nonsense_is_told_at_a_field(typed):
    found = sheet_of(MATERIAL, FOAM | typed)
    _, problems = read({"material": [found]}, lambda top: material(top.tables("material")[0]))
    at = placed(MATERIAL, FOAM | typed, problems)
    assert set(at) <= set(NAMES)
    assert sum(len(said) for said in at.values()) == len(problems)


@given(st.dictionaries(st.sampled_from(NAMES), st.text(max_size=40), max_size=20))
def test_nonsense_is_kept_or_told_in_sentences(tmp_path_factory, typed):
    desk = SheetDesk((), tmp_path_factory.mktemp("desk"))
    try:
        assert desk.keep_material(FOAM | typed) in {sheet.key for sheet in desk.sheets().materials}
    except Slips as told:
        assert all(said.strip() for each in told.at.values() for said in each)  # noqa: PT017


def test_every_field_of_the_forms_is_a_key_of_a_sheet():
    """A form that offered a key which no sheet knows would be refused by its reader."""
    for reads, groups in ((material, MATERIAL), (lot, LOT)):
        full = {field(g, e, n): "x" for g in groups for n in range(1, g.times + 1) for e in g.entries}
        _, problems = read(sheet_of(groups, full), reads)
        assert problems
        assert not [problem for problem in problems if "is not a key here" in problem]


def test_every_key_of_a_sheet_but_that_of_an_example_can_be_typed():
    """What the reader knows and the form does not have could not be entered."""
    asked = set()

    class Asking(Reader):
        def take(self, key, convert, default):
            asked.add(key)
            return super().take(key, convert, default)

        def need(self, key, convert, stand_in):
            asked.add(key)
            return super().need(key, convert, stand_in)

    for reads in (material, lot):
        reads(Asking({}, "form", []))
    assert asked - {entry.key for group in (*MATERIAL, *LOT) for entry in group.entries} == {"example"}


def test_every_field_says_what_it_is_or_where_it_is_printed():
    assert all(entry.label and entry.hint.endswith(".") for group in (*MATERIAL, *LOT) for entry in group.entries)


def test_a_sentence_about_no_field_is_told_for_the_whole_form():
    with pytest.raises(SettingsError, match="about all"):
        raise Slips(placed(MATERIAL, FOAM, ["about all"]))
