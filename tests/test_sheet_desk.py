"""A material or a lot entered from a form: offered at once, kept as typed, and never half."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.casting.chemistry import Chemistry
from station.core.mass import Mass
from station.core.material import Basis
from station.errors import Refused, SettingsError
from station.sheet_desk import SheetDesk
from station.sheet_form import LOT, MATERIAL, field, written
from station.sheets import read_sheets

FOAM = {
    "key": "test-foam",
    "title": "Test foam (invented)",
    "chemistry": "urethane foam",
    "basis": "by weight",
    "tolerance": "2 %",
    "pour_into": "B",
    "density": "1,07 g/cm3",
    "cautions": "Isocyanates sensitise.\nVentilate.",
    "component 1 name": "A",
    "component 1 parts": "100",
    "component 1 isocyanate": "yes",
    "component 2 name": "B",
    "component 2 parts": "62,5",
    "additive 1 name": "pigment",
    "additive 1 percent": "3 %",
    "additive 1 of": "B",
    "additive 1 into": "B",
    "times reference": "73.4 °F",
    "times pot_life": "50 s",
    "times mix": "15 s",
    "times pour_reserve": "12 s",
    "times demold": "20 min",
    "times.at 1 temperature": "30 °C",
    "times.at 1 pot_life": "35 s",
    "times.of 1 mass": "500 g",
    "times.of 1 pot_life": "40 s",
    "foam free_rise": "6 lb/ft3",
    "kit 1 title": "pair",
    "kit 1 price": "34.00",
    "kit 1 part": "A 1 kg\nB 625 g",
}
LOT_A = {"material": "test-foam", "component": "A", "number": "T-1", "left": "1.2 kg", "opened": "2026-03-14"}


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


def test_a_lot_is_offered_at_once_beside_those_before(desk):
    desk.keep_material(FOAM)
    desk.keep_lot(LOT_A)
    desk.keep_lot(LOT_A | {"number": "T-2", "component": "B"})
    mine = [lot for lot in desk.sheets().lots if lot.material == "test-foam"]
    assert [(lot.number, lot.component) for lot in mine] == [("T-1", "A"), ("T-2", "B")]
    assert mine[0].left == Mass.grams(1200)


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"times pot_life": "soon"}, "pot_life"),
        ({"component 2 parts": "some"}, "parts"),
        ({"density": "6 lb"}, "lb/ft3"),
        ({"times demold": "20 s"}, "demold"),
        ({"kit 1 part": "C 1 kg"}, "component"),
        ({"component 2 name": ""}, "name"),
        ({"pour_into": "C"}, "pour_into"),
    ],
)
def test_what_cannot_be_read_is_told_and_nothing_is_kept(desk, tmp_path, wrong, says):
    with pytest.raises(SettingsError, match=says) as refused:
        desk.keep_material(FOAM | wrong)
    assert str(tmp_path) not in str(refused.value)
    assert not (tmp_path / "sheets").exists()
    assert all(m.key != "test-foam" for m in desk.sheets().materials)


@pytest.mark.parametrize("wrong", [{"key": ""}, {"key": "Two Words"}, {"key": "../x"}, {"title": ""}, {"basis": ""}])
def test_what_is_missing_or_cannot_be_a_name_is_refused(desk, wrong):
    with pytest.raises(Refused):
        desk.keep_material(FOAM | wrong)


def test_a_sheet_is_never_written_over(desk, tmp_path):
    desk.keep_material(FOAM)
    before = (tmp_path / "sheets" / "test-foam.toml").read_text()
    with pytest.raises(Refused, match="already"):
        desk.keep_material(FOAM | {"title": "Another"})
    assert (tmp_path / "sheets" / "test-foam.toml").read_text() == before


def test_a_lot_that_is_refused_leaves_those_before(desk):
    desk.keep_material(FOAM)
    desk.keep_lot(LOT_A)
    for wrong in ({"number": "T-1"}, {"number": "T-3", "material": "nothing"}, {"number": "T-3", "component": "C"}):
        with pytest.raises(SettingsError):
            desk.keep_lot(LOT_A | wrong)
    assert [lot.number for lot in desk.sheets().lots if lot.material == "test-foam"] == ["T-1"]


NAMES = [field(g, e, n) for g in MATERIAL for n in range(1, g.times + 1) for e in g.entries]


@given(st.dictionaries(st.sampled_from(NAMES), st.text(max_size=40), max_size=20))
def test_nonsense_is_told_in_sentences(tmp_path_factory, typed):
    desk = SheetDesk((), tmp_path_factory.mktemp("desk"))
    try:
        desk.keep_material(FOAM | typed)
    except (Refused, SettingsError) as told:
        assert str(told).strip()  # noqa: PT017


def test_every_field_of_the_forms_is_a_key_of_a_sheet(tmp_path):
    """A form that offered a key which no sheet knows would be refused by its reader."""
    full = dict.fromkeys(NAMES, "x")
    place = tmp_path / "full.toml"
    import tomlkit

    for kind, groups, typed in (
        ("material", MATERIAL, full),
        ("lot", LOT, {field(g, e): "x" for g in LOT for e in g.entries}),
    ):
        document = tomlkit.document()
        many = tomlkit.aot()
        many.append(written(groups, typed))
        document.add(kind, many)
        place.write_text(tomlkit.dumps(document))
        with pytest.raises(SettingsError) as told:
            read_sheets([place])
        assert "is not a key here" not in str(told.value)
