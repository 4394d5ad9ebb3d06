"""A material or a lot entered from a form: offered at once, kept as typed, and never half."""

import re

import pytest

from station.casting.chemistry import Chemistry
from station.core.mass import Mass
from station.core.material import Basis
from station.errors import Refused, SettingsError
from station.sheet_desk import SheetDesk
from station.sheet_form.slips import WHOLE, Slips
from station.sheets import example_folder
from tests.typed_forms import FOAM, LOT_A


@pytest.fixture
def desk(tmp_path):
    return SheetDesk((), tmp_path)


def test_a_material_is_offered_at_once_and_after_a_restart(desk, tmp_path):
    assert desk.keep_material(FOAM) == "test-foam"
    for now in (desk, SheetDesk((), tmp_path)):
        made = next(m for m in now.sheets().materials if m.key == "test-foam")
        assert (made.chemistry, made.basis) == (Chemistry.URETHANE_FOAM, Basis.WEIGHT)
        assert [part.parts for part in made.components] == [100, 62.5]
        assert made.components[0].isocyanate
        assert made.density == pytest.approx(1.07)
        assert made.foam.free_rise_density == pytest.approx(0.0961108, abs=1e-6)
        assert made.times.reference_c == pytest.approx(23)
        assert made.times.at[0].pot_life_s == 35
        assert made.times.pot_life_by_mass[0].mass_g == 500
        assert made.kits[0].price == 3400
        assert made.kits[0].parts[1].mass == Mass.grams(625)
        assert made.cautions == ("Isocyanates sensitise.", "Ventilate.")


@pytest.mark.parametrize(
    ("wrong", "where", "says"),
    [
        ({"times pot_life": "soon"}, "times pot_life", "'soon' is not a time"),
        ({"component 2 parts": "some"}, "component 2 parts", "Must be a number above zero"),
        ({"density": "6 lb"}, "density", "lb/ft3"),
        ({"times demold": "20 s"}, "times demold", "must be longer than pot_life"),
        ({"kit 1 part": "C 1 kg"}, "kit 1 part", "Must be one of 'A', 'B'"),
        ({"kit 1 part": "A some"}, "kit 1 part", "'some'"),
        ({"kit 1 part": ""}, "kit 1 part", "Needs at least one [[part]]"),
        ({"component 2 name": ""}, "component 2 name", "Name is missing"),
        ({"pour_into": "C"}, "pour_into", "Must be one of 'A', 'B'"),
        ({"weigh_order": "A"}, "weigh_order", "Must name every component once"),
        ({"basis": "by volume"}, "component 1 density", "needs the density"),
        ({"foam free_rise": "", "foam packing_low": "1.1"}, "foam free_rise", "Needs free_rise or expansion"),
        ({"title": "Flexible urethane foam 100:60"}, "title", "Already used"),
        ({"key": ""}, "key", "Short name is empty"),
        ({"key": "Two Words"}, "key", "cannot be a short name"),
        ({"key": "../x"}, "key", "cannot be a short name"),
        ({"key": "lots"}, "key", "A file lots.toml"),
        ({"key": "example-foam"}, "key", "already"),
        ({"basis": " "}, "basis", "is empty"),
        # A form with a gap in its rows: the second table of the sheet is the third row of the form.
        ({"times.of 3 mass": "much", "times.of 3 pot_life": "30 s"}, "times.of 3 mass", "'much'"),
        (
            {
                "additive 1 name": "",
                "additive 1 percent": "",
                "additive 1 of": "",
                "additive 1 into": "",
                "additive 3 name": "filler",
                "additive 3 percent": "much",
                "additive 3 of": "A",
                "additive 3 into": "A",
            },
            "additive 3 percent",
            "'much'",
        ),
    ],
)
def test_what_is_wrong_is_told_at_its_field_and_nothing_is_kept(desk, tmp_path, wrong, where, says):
    with pytest.raises(Slips) as refused:
        desk.keep_material(FOAM | wrong)
    assert next(iter(refused.value.at)) == where  # what follows from it may be told at others
    assert says in " ".join(refused.value.at[where])
    assert re.search(r"/tmp\w{8}/", str(refused.value)) is None  # where it was tried is nobody's business
    assert not (tmp_path / "sheets").exists()
    assert all(m.key != "test-foam" for m in desk.sheets().materials)


def test_everything_that_is_missing_is_told_at_once(desk):
    with pytest.raises(Slips) as refused:
        desk.keep_material({})
    assert {"key", "title", "basis", "times pot_life"} <= set(refused.value.at)


def test_what_is_missing_and_what_cannot_be_read_are_told_together(desk):
    with pytest.raises(Slips) as refused:
        desk.keep_material(FOAM | {"title": "", "times pot_life": "soon"})
    assert set(refused.value.at) == {"title", "times pot_life"}


def test_no_component_at_all_is_told_at_the_first(desk):
    with pytest.raises(Slips) as refused:
        desk.keep_material({name: text for name, text in FOAM.items() if not name.startswith("component")})
    assert refused.value.at["component 1 name"] == ["At least 2 are needed."]
    with pytest.raises(Slips) as refused:
        desk.keep_material({name: text for name, text in FOAM.items() if not name.startswith("component 1")})
    assert next(iter(refused.value.at)) == "component 1 name"


def test_what_is_wrong_with_another_file_is_told_with_its_place(desk, tmp_path):
    desk.keep_material(FOAM)
    place = tmp_path / "sheets" / "test-foam.toml"
    place.write_text(place.read_text().replace("50 s", "soon"))
    with pytest.raises(Slips) as refused:
        desk.keep_material(FOAM | {"key": "other-foam", "title": "Other foam"})
    (told,) = refused.value.at[WHOLE]
    assert told.startswith(f"{place} [[material]] number 1 [times]: pot_life = 'soon'")
    with pytest.raises(SettingsError, match="soon"):
        desk.keep_lot(LOT_A)
    with pytest.raises(SettingsError, match="soon"):
        desk.reload()
    assert any(m.key == "test-foam" for m in desk.sheets().materials)


def test_a_file_changed_by_hand_counts_when_all_are_read_again(desk, tmp_path):
    desk.keep_material(FOAM)
    place = tmp_path / "sheets" / "test-foam.toml"
    place.write_text(place.read_text().replace("50 s", "55 s"))
    desk.reload()
    assert next(m for m in desk.sheets().materials if m.key == "test-foam").times.pot_life_s == 55


def test_a_sheet_is_not_written_over_unless_it_is_named(desk, tmp_path):
    desk.keep_material(FOAM)
    before = (tmp_path / "sheets" / "test-foam.toml").read_text()
    with pytest.raises(Slips, match="already"):
        desk.keep_material(FOAM | {"title": "Another"})
    assert (tmp_path / "sheets" / "test-foam.toml").read_text() == before
    assert not (tmp_path / "sheets" / "test-foam.toml.before").exists()


def test_a_sheet_is_changed_as_it_was_typed_and_the_old_one_stays_beside_it(desk, tmp_path):
    desk.keep_material(FOAM)
    before = (tmp_path / "sheets" / "test-foam.toml").read_text()
    assert desk.typed("test-foam") == FOAM | {"component 2 parts": "62.5"}
    desk.keep_material(desk.typed("test-foam") | {"times pot_life": "45 s"}, instead_of="test-foam")
    assert next(m for m in desk.sheets().materials if m.key == "test-foam").times.pot_life_s == 45
    assert (tmp_path / "sheets" / "test-foam.toml.before").read_text() == before
    assert len(SheetDesk((), tmp_path).sheets().materials) == len(desk.sheets().materials)


@pytest.mark.parametrize("wrong", [{"times pot_life": "soon"}, {"key": "other"}])
def test_a_change_that_is_refused_leaves_the_sheet_as_it_was(desk, tmp_path, wrong):
    desk.keep_material(FOAM)
    before = (tmp_path / "sheets" / "test-foam.toml").read_text()
    with pytest.raises(Slips):
        desk.keep_material(FOAM | wrong, instead_of="test-foam")
    assert [file.name for file in (tmp_path / "sheets").iterdir()] == ["test-foam.toml"]
    assert (tmp_path / "sheets" / "test-foam.toml").read_text() == before


def test_only_what_was_entered_here_and_fits_the_form_is_changed_here(desk, tmp_path):
    desk.keep_material(FOAM)
    desk.keep_lot(LOT_A)
    assert desk.changeable("test-foam")
    assert not desk.changeable("example-foam")
    for key in ("example-foam", "../x", ""):
        with pytest.raises(Refused, match="not entered"):
            desk.typed(key)
    with pytest.raises(Refused, match="holds more"):
        desk.typed("lots")
    place = tmp_path / "sheets" / "test-foam.toml"
    place.write_text(
        place.read_text()
        + "".join(f'[[material.additive]]\nname = "p{n}"\npercent = "1 %"\nof = "A"\ninto = "A"\n' for n in range(3))
    )
    with pytest.raises(Refused, match="more than the form has room for"):
        desk.typed("test-foam")
    place.write_text(
        place.read_text().split('[[material.additive]]\nname = "p0')[0] + '[[mold]]\nkey = "x"\ntitle = "X"\n'
    )
    with pytest.raises(Refused, match="holds more"):
        desk.typed("test-foam")


def test_those_that_contradict_themselves_are_reviewed_first(desk):
    desk.keep_material(FOAM | {"component 1 isocyanate": ""})
    (first, told), *others = desk.reviewed()
    assert first.key == "test-foam"
    assert "isocyanate" in told.contradictions[0]
    assert all(not review.contradictions for _, review in others)


def test_a_component_may_be_called_by_several_words(desk):
    names = {
        "component 1 name": "part 1",
        "component 2 name": "part 1 slow",
        "pour_into": "part 1",
        "additive 1 of": "part 1",
        "additive 1 into": "part 1",
        "kit 1 part": "part 1 1 kg\npart 1 slow 625 g",
    }
    desk.keep_material(FOAM | names)
    made = next(m for m in desk.sheets().materials if m.key == "test-foam")
    assert [(p.component, p.mass.g) for p in made.kits[0].parts] == [("part 1", 1000.0), ("part 1 slow", 625.0)]


def test_a_folder_of_the_settings_may_be_the_one_in_which_sheets_are_kept(tmp_path):
    """Paths of the settings are meant from the state folder as well: sheets = ["sheets"] names that very one."""
    own = tmp_path / "sheets"
    SheetDesk((), tmp_path).keep_material(FOAM)
    for places in ((own,), (own, example_folder()), (example_folder(), own)):
        desk = SheetDesk(places, tmp_path)
        desk.keep_material(FOAM | {"title": "Changed (invented)"}, instead_of=FOAM["key"])
        assert [m.title for m in desk.sheets().materials if m.key == FOAM["key"]] == ["Changed (invented)"]
