"""Sheets: what a person writes down from a data sheet arrives, and every slip is told with its place."""

from __future__ import annotations

from pathlib import Path

import pytest

from station.core.mass import Mass
from station.core.material import Additive, Basis, Component, Lot, Mold, Times
from station.errors import SettingsError
from station.sheets import example_folder, read_sheets
from tests.sheet_texts import LOT, MATERIAL, MOLD, Read, reading, refused


@pytest.fixture
def read(tmp_path: Path) -> Read:
    return reading(tmp_path)


def test_a_sheet_arrives_as_it_was_written(read: Read) -> None:
    found = read(all=MATERIAL + MOLD + LOT)
    (foam,) = found.materials
    assert (foam.key, foam.title, foam.basis, foam.tolerance_percent) == ("foam", "Seat foam", Basis.WEIGHT, 2.0)
    assert foam.components == (Component("A", 100.0), Component("B", 60.0, 1.02))
    assert foam.additives == (Additive("pigment", 3.0, "B", "B", 20.0),)
    assert foam.times == Times(50.0, 15.0, 12.0, 1200.0, 86_400.0, pytest.approx(23.0))
    assert (foam.weigh_order, foam.pour_into, foam.cling_percent) == (("A", "B"), "B", 1.0)
    assert (foam.ready_items, foam.cautions, foam.example) == (("lid", "clamps"), ("Gloves.",), False)
    assert found.molds == (Mold("pad", "Pad", Mass(160_000), closes=False, ready_items=("lid",)),)
    assert found.lots == (Lot("A", "L1", Mass(2_000_000)),)


def test_files_and_folders_are_read_together_and_each_file_once(read: Read, tmp_path: Path) -> None:
    read(a=MATERIAL, b=MOLD)
    (tmp_path / "notes.txt").write_text("no sheet")
    (tmp_path / "station.toml").write_text("no sheet")
    found = read_sheets([tmp_path / "a.toml", tmp_path])
    assert [sheet.key for sheet in found.materials] == ["foam"]
    assert [cavity.key for cavity in found.molds] == ["pad"]


def test_a_weighing_order_may_differ_from_the_order_of_the_components(read: Read) -> None:
    (foam,) = read(a=MATERIAL.replace('pour_into = "B"', 'pour_into = "B"\nweigh_order = ["B", "A"]')).materials
    assert foam.weigh_order == ("B", "A")


def test_a_text_over_several_lines_becomes_one_line(read: Read) -> None:
    (foam,) = read(a=MATERIAL.replace('"Gloves."', '"""Gloves.\n   Glasses."""')).materials
    assert foam.cautions == ("Gloves. Glasses.",)


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('key = "foam"\n', "", "[[material]] number 1: key is missing."),
        ('title = "Seat foam"', 'title = "Seat\\u0000foam"', "title = 'Seat\\x00foam': must be a text"),
        ('title = "Seat foam"', 'titel = "x"\ntitle = "Seat foam"', "titel is not a key here; did you mean 'title'?"),
        ('"by weight"', '"by wieght"', "must be one of 'by weight', 'by volume'; did you mean 'by weight'?"),
        ('"by weight"', '"by volume"', "[[component]] number 1: density is missing: a ratio by volume"),
        ('"2 %"', '"0 %"', "tolerance = '0 %': must lie between 0.1 and 20 %."),
        ('"2 %"', '"-1 %"', "tolerance = '-1 %'"),
        ('"2 %"', '"21 %"', "tolerance = '21 %'"),
        ('"2 %"', "2", "tolerance = 2: 2 is not a percentage with its sign"),
        ("parts = 100", "parts = 0", "[[component]] number 1: parts = 0: must be a number above zero."),
        ("parts = 100", "parts = -1", "parts = -1: must be a number above zero."),
        ("parts = 100", "parts = nan", "parts = nan: must be a number above zero."),
        ("parts = 100", 'parts = "100"', "parts = '100': must be a number above zero."),
        ('"1.02 g/cm3"', '"1.02"', "density = '1.02': '1.02' is not a density with its unit"),
        ('"1.02 g/cm3"', '"1020 g/cm3"', "must lie between 0.3 and 5 g/cm³."),
        ('pour_into = "B"', 'pour_into = "C"', "pour_into = 'C': must be one of 'A', 'B'."),
        ('pour_into = "B"', 'pour_into = "B"\nweigh_order = ["A"]', "must name every component once: A, B."),
        ('pour_into = "B"', 'pour_into = "B"\nweigh_order = ["A", "A"]', "must name every component once: A, B."),
        ('percent = "3 %"', 'percent = "101 %"', "percent = '101 %': must lie between 0.01 and 100 %."),
        ('into = "B"\npremix', 'into = "C"\npremix', "[[additive]] number 1: into = 'C': must be one of 'A', 'B'."),
        ('of = "B"', 'of = "C"', "of = 'C': must be one of 'A', 'B', 'total'."),
        ('"20 s"', '"20"', "premix = '20': '20' is not a time with its unit"),
        ('name = "pigment"', 'name = "A"', "'A' names two of its components and additives."),
        ('"73.4 °F"', '"73.4"', "[times]: reference = '73.4': '73.4' is not a temperature with its unit"),
        ('"50 s"', '"50 h"', "pot_life = '50 h': must lie between"),
        ('"50 s"', '"27 s"', "mix (15 s) and pour_reserve (12 s) together must be shorter than pot_life (27 s)."),
        ('"20 min"', '"50 s"', "demold (50 s) must be longer than pot_life (50 s)."),
        ('"24 h"', '"10 min"', "full_cure (600 s) must not be shorter than demold (1200 s)."),
        ('["lid", "clamps"]', '"lid"', "ready = 'lid': must be a list of texts"),
        ('["lid", "clamps"]', '["lid", 3]', "must be a list of texts"),
    ],
)
def test_one_slip_in_a_material_is_told_with_its_place(
    read: Read, tmp_path: Path, old: str, new: str, told: str
) -> None:
    assert old in MATERIAL
    problems = refused(read, a=MATERIAL.replace(old, new, 1))
    assert any(told in problem for problem in problems), problems
    assert all(problem.startswith(f"{tmp_path / 'a.toml'} [[material]] number 1") for problem in problems)


def test_two_components_of_one_name_and_a_component_called_total_are_told(read: Read) -> None:
    assert any("'A' names two of its" in p for p in refused(read, a=MATERIAL.replace('name = "B"', 'name = "A"')))
    assert any("means all components together" in p for p in refused(read, a=MATERIAL.replace('"A"', '"total"')))


def test_times_are_compared_only_when_each_of_them_is_good(read: Read) -> None:
    (problem,) = refused(read, a=MATERIAL.replace('"50 s"', '"fifty"').replace('"20 min"', '"30 s"'))
    assert "pot_life = 'fifty'" in problem


def test_a_material_needs_two_components(read: Read) -> None:
    alone = MATERIAL[: MATERIAL.index('[[material.component]]\nname = "B"')]
    problems = refused(read, a=alone.replace('pour_into = "B"', 'pour_into = "A"'))
    assert any("needs at least two [[material.component]] tables." in problem for problem in problems)


@pytest.mark.parametrize(
    ("toml", "told"),
    [
        (MOLD.replace('"160 g"', '"0 g"'), "[[mold]] number 1: shot = '0 g': '0 g' must be above zero"),
        (MOLD.replace('"160 g"', "160"), "shot = 160: 160 is not a mass with its unit"),
        (MOLD.replace("false", '"no"'), "closes = 'no': must be true or false"),
        (MOLD + "lid = true\n", "[[mold]] number 1: lid is not a key here"),
        (MATERIAL + LOT.replace('"2 kg"', '"-2 kg"'), "[[lot]] number 1: left = '-2 kg': '-2 kg' must be above zero"),
        (
            MATERIAL + LOT.replace('"A"', '"C"'),
            "component = 'C': no material has such a component; known: A, B, pigment.",
        ),
        (LOT, "known: none, for no material is read."),
        (MOLD + 'cavity = "5 kg"\n', "cavity = '5 kg': '5 kg' is"),
        (MOLD + "lasts = 0\n", "lasts = 0: must be a whole number from 1 to"),
        (MATERIAL + LOT + 'opened = "soon"\n', "opened = 'soon': must be a day, such as 2026-03-14."),
        (MATERIAL + LOT + 'material = "foams"\n', "material = 'foams': no such material is read; known: foam."),
        (MATERIAL + LOT + 'gross = "3 kg"\n', "gross and left are both given: keep the one that was weighed."),
        (MATERIAL + LOT.replace("left", "gross"), "gross needs empty, what the bare container weighs"),
        (
            MATERIAL + LOT.replace("left", "gross") + 'empty = "2 kg"\n',
            "gross (2000 g) must be more than empty (2000 g).",
        ),
        (MOLD.replace("[[mold]]", "[mold]"), "mold must be written as [[mold]] tables."),
    ],
)
def test_one_slip_in_a_mold_or_a_lot_is_told_with_its_place(read: Read, tmp_path: Path, toml: str, told: str) -> None:
    (problem,) = refused(read, a=toml)
    assert problem.startswith(str(tmp_path / "a.toml"))
    assert told in problem


def test_what_is_used_twice_names_both_places(read: Read, tmp_path: Path) -> None:
    problems = refused(read, a=MATERIAL + MOLD + LOT, b=MATERIAL + MOLD + LOT)
    first, second = tmp_path / "a.toml", tmp_path / "b.toml"
    assert problems == [
        f"{second} [[material]] number 1: key = 'foam': already used in {first} [[material]] number 1.",
        f"{second} [[material]] number 1: title = 'Seat foam': already used in {first} [[material]] number 1.",
        f"{second} [[mold]] number 1: key = 'pad': already used in {first} [[mold]] number 1.",
        f"{second} [[mold]] number 1: title = 'Pad': already used in {first} [[mold]] number 1.",
        f"{second} [[lot]] number 1: number = 'L1': already used in {first} [[lot]] number 1.",
    ]


def test_the_problems_of_all_files_are_told_together(read: Read, tmp_path: Path) -> None:
    (tmp_path / "d.toml").write_bytes(b'title = "\xff"')
    problems = refused(read, a="", b="[[material", c=MOLD.replace('"160 g"', '"heavy"'), e='[[molds]]\nkey = "x"\n')
    assert [problem.split(": ")[0].removeprefix(f"{tmp_path}/") for problem in problems] == [
        "a.toml",
        "b.toml",
        "c.toml [[mold]] number 1",
        "d.toml",
        "e.toml",
        "e.toml",
    ]
    assert "no [[material]], [[mold]] or [[lot]] in it" in problems[0]
    assert "not TOML" in problems[1]
    assert "not UTF-8 text" in problems[3]
    assert "did you mean 'mold'?" in problems[5]


def test_an_empty_folder_and_a_missing_file_are_told(tmp_path: Path) -> None:
    with pytest.raises(SettingsError) as wrong:
        read_sheets([tmp_path, tmp_path / "gone.toml"])
    assert wrong.value.problems == [
        f"{tmp_path}: there is no *.toml sheet in this folder.",
        f"{tmp_path / 'gone.toml'}: there is no such file; check the path.",
    ]


def test_the_shipped_examples_are_read_when_no_place_is_named() -> None:
    found = read_sheets(())
    assert found == read_sheets([example_folder()])
    assert {sheet.basis for sheet in found.materials} == {Basis.WEIGHT, Basis.VOLUME}
    assert all(sheet.example and sheet.cautions and sheet.ready_items for sheet in found.materials)
    assert all(cavity.shot and cavity.ready_items for cavity in found.molds)


def test_the_shipped_examples_say_that_they_are_invented() -> None:
    for name, word in (("materials.toml", "invented example"), ("molds.toml", "invented workshop")):
        first_lines = (example_folder() / name).read_text("utf-8").splitlines()[:2]
        assert any(word in line for line in first_lines if line.startswith("#"))
    assert "data sheet" in (example_folder() / "materials.toml").read_text("utf-8")
