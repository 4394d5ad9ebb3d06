"""A mold entered from a form: offered at once, kept as typed; a cast that was planned in it keeps its old values."""

import pytest

from station.core import events as ev
from station.core.mass import Mass
from station.core.standing import Standing
from station.errors import Refused
from station.library import Library
from station.mold_record import MoldRecord
from station.sheet_desk import SheetDesk
from station.sheet_form.slips import Slips
from station.store.archive import Archive
from station.store.ledger import SqlLedger
from station.testing import ScriptedClock
from tests.play import PLACE
from tests.typed_forms import FOAM, MOLD


@pytest.fixture
def desk(tmp_path):
    return SheetDesk((), tmp_path)


def of(desk, key="test-pad"):
    return next(mold for mold in desk.molds() if mold.key == key)


def test_a_mold_is_offered_at_once_and_after_a_restart(desk, tmp_path):
    assert desk.keep_mold(MOLD) == "test-pad"
    for now in (desk, SheetDesk((), tmp_path)):
        made = of(now)
        assert made.title == "Test pad (invented)"
        assert made.cavity_cm3 == pytest.approx(1300)
        assert made.shot == Mass.grams(160)
        assert made.packing == 1.25
        assert made.shrinkage_percent == pytest.approx(0.4)
        assert not made.closes
        assert made.ready_items == ("clamps open", "lid dry")
        assert (made.price, made.lasts) == (5800, 40)
    assert desk.typed_mold("test-pad") == MOLD | {"packing": "1.25"}


@pytest.mark.parametrize(
    ("wrong", "where", "says"),
    [
        ({"key": ""}, "key", "Short name is empty"),
        ({"key": "Two Words"}, "key", "as paddle-grip"),
        ({"key": "../x"}, "key", "cannot be a short name"),
        ({"key": "paddle-grip"}, "key", "is the short name of Paddle grip already"),
        ({"title": "Paddle grip"}, "title", "Already used"),
        ({"cavity": "big"}, "cavity", "'big'"),
        ({"cavity": "0 cm3"}, "cavity", "between 0.1 and"),
        ({"shot": "some"}, "shot", "'some'"),
        ({"packing": "much"}, "packing", "Must be a number above zero"),
        ({"shrinkage": "40 %"}, "shrinkage", "between 0 and 10 %"),
        ({"closes": ""}, "closes", "is empty"),
        ({"price": "dear"}, "price", "Must be a price"),
        ({"lasts": "ever"}, "lasts", "Must be a whole number"),
    ],
)
def test_what_is_wrong_is_told_at_its_field_and_nothing_is_kept(desk, tmp_path, wrong, where, says):
    with pytest.raises(Slips) as refused:
        desk.keep_mold(MOLD | wrong)
    assert list(refused.value.at) == [where]
    assert says in " ".join(refused.value.at[where])
    assert not (tmp_path / "sheets").exists()
    assert all(mold.key != "test-pad" for mold in desk.molds())


def test_a_mold_and_a_material_may_have_the_same_short_name(desk):
    desk.keep_material(FOAM | {"key": "test-pad"})
    desk.keep_mold(MOLD)
    desk.keep_material(FOAM | {"key": "test-pad", "hardness": "30 Shore A"}, instead_of="test-pad")
    assert of(desk).shot == Mass.grams(160)
    assert desk.changeable("test-pad")
    assert desk.changeable_mold("test-pad")


def test_only_a_mold_that_was_entered_here_is_changed_here(desk, tmp_path):
    assert not desk.changeable_mold("paddle-grip")
    for key in ("paddle-grip", "../x", ""):
        with pytest.raises(Refused, match="not entered"):
            desk.typed_mold(key)
    desk.keep_mold(MOLD)
    with pytest.raises(Slips, match="already"):
        desk.keep_mold(MOLD | {"title": "Another"})
    with pytest.raises(Slips, match="It stays 'test-pad': casts are called by it"):
        desk.keep_mold(MOLD | {"key": "other"}, instead_of="test-pad")
    desk.keep_mold(MOLD | {"closes": "yes"}, instead_of="test-pad")
    assert of(desk).closes
    assert 'shot = "160 g"' in (tmp_path / "sheets" / "mold-test-pad.toml.before").read_text()


def test_a_cast_keeps_the_mold_as_it_was_planned_in_it(desk, tmp_path):
    desk.keep_mold(MOLD)
    clock = ScriptedClock()
    with SqlLedger(tmp_path / "state") as ledger, Archive(ledger.place) as archive:
        library = Library(desk.sheets, archive, lambda: PLACE, Standing)
        planned = library.plan("example-foam", "test-pad", "", {}, "page").plan
        ledger.write([ev.Entry(ev.StationStarted(None, "0.1.0"), clock.now())])
        ledger.write([ev.Entry(ev.CastBegun(1, planned, "page"), clock.advance(1))])
        desk.keep_mold(MOLD | {"shot": "171 g", "title": "Another name"}, instead_of="test-pad")
        assert library.plan("example-foam", "test-pad", "", {}, "page").plan.total == Mass.grams(171)
        old = archive.record(1)
        assert old is not None
        assert (old.mold, old.planned_total) == ("Test pad (invented)", Mass.grams(160))
        (begun,) = [cast.plan.mold for cast in ledger.standing().casts]
        assert (begun.shot, begun.shrinkage_percent) == (Mass.grams(160), pytest.approx(0.4))
        (past,) = MoldRecord(archive, Standing).casts().values()
        assert (past.casts, past.out, past.failed, past.last_number) == (1, 0, 0, 1)
