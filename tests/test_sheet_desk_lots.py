"""A lot entered from a form: offered at once beside those before, and told at its field what is wrong with it."""

import pytest

from station.core.mass import Mass
from station.core.standing import Standing
from station.errors import SettingsError
from station.library import Library
from station.sheet_desk import SheetDesk
from station.sheet_form.slips import Slips
from tests.play import PLACE
from tests.typed_forms import FOAM, LOT_A


@pytest.fixture
def desk(tmp_path):
    found = SheetDesk((), tmp_path)
    found.keep_material(FOAM)
    return found


def test_a_lot_is_offered_at_once_beside_those_before(desk):
    desk.keep_lot(LOT_A)
    desk.keep_lot(LOT_A | {"number": "T-2", "component": "B"})
    mine = [lot for lot in desk.sheets().lots if lot.material == "test-foam"]
    assert [(lot.number, lot.component) for lot in mine] == [("T-1", "A"), ("T-2", "B")]
    assert mine[0].left == Mass.grams(1200)


def test_a_container_is_entered_by_its_gross(desk):
    desk.keep_lot({**LOT_A, "left": "", "gross": "1.44 kg", "empty": "240 g"})
    assert next(lot for lot in desk.sheets().lots if lot.number == "T-1").left == Mass.grams(1200)


def test_what_is_wrong_with_a_lot_is_told_at_its_field(desk):
    desk.keep_lot(LOT_A)
    for wrong, where in (
        ({"number": "T-1"}, "number"),
        ({"number": "T-2", "opened": "soon"}, "opened"),
        ({"number": "T-2", "gross": "2 kg"}, "gross"),
        ({"number": "T-2", "left": "", "gross": "2 kg"}, "empty"),
        ({"number": "T-2", "component": "C"}, "component"),
        ({"number": "T-2", "material": "none"}, "material"),
        ({"number": ""}, "number"),
    ):
        with pytest.raises(Slips) as refused:
            desk.keep_lot(LOT_A | wrong)
        assert list(refused.value.at) == [where], refused.value.at


def test_a_lot_that_is_refused_leaves_those_before(desk):
    desk.keep_lot(LOT_A)
    for wrong in ({"number": "T-1"}, {"number": "T-3", "material": "nothing"}, {"number": "T-3", "component": "C"}):
        with pytest.raises(SettingsError):
            desk.keep_lot(LOT_A | wrong)
    assert [lot.number for lot in desk.sheets().lots if lot.material == "test-foam"] == ["T-1"]


def test_what_is_entered_can_be_cast_at_once(desk):
    library = Library(desk.sheets, None, lambda: PLACE, Standing)
    desk.keep_lot(LOT_A)
    (entered,) = [sheet for sheet in library.materials() if sheet.key == "test-foam"]
    assert library.lots_of(entered) == {"A": ["T-1"]}
    plan = library.plan("test-foam", "kayak-seat-pad", "160 g", {"A": "T-1"}, "page").plan
    assert plan.material == entered
    assert [lot.number for lot in plan.lots] == ["T-1"]
