"""The shelf: lots of the right material alone, a volume taken as a cavity's, and what goes next."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date

import pytest

from station.core.advice_events import AdviceAdopted, AdviceKind
from station.core.events import CastBegun, CastQueued, Entry
from station.core.mass import ZERO, Mass
from station.core.material import Lot
from station.core.mold_care import MoldCare
from station.core.plan_checks import Check, Finding
from station.core.planning import Impossible
from station.core.standing import LotUse, Standing
from station.errors import Refused
from station.library import Library
from station.phone.shelf import Chosen
from station.sheets import Sheets, read_sheets
from station.store.archive import Archive
from station.store.ledger import SqlLedger
from station.testing import ScriptedClock
from tests.play import PLACE

G = Mass.grams
SHEETS = read_sheets(())
TODAY = replace(PLACE, today=date(2026, 3, 2))


def library(sheets: Sheets = SHEETS, standing: Standing | None = None) -> Library:
    now: Callable[[], Standing] = lambda: standing or Standing()  # noqa: E731
    return Library(lambda: sheets, None, lambda: TODAY, now)  # type: ignore[arg-type]


def plan(amount: str, lots: dict[str, str] | None = None, material: str = "example-foam", mold: str = "kayak-seat-pad"):
    return library().plan(material, mold, amount, lots or {}, "page").plan


def test_a_lot_of_another_material_is_refused_by_name():
    with pytest.raises(Refused, match="WW-SA-0117 is A of example-silicone, not A of example-foam"):
        plan("160 g", {"A": "WW-SA-0117"})
    with pytest.raises(Refused, match="WW-FB-0203 is B of example-foam, not A"):
        plan("160 g", {"A": "WW-FB-0203"})


def test_a_known_lot_brings_its_dates_and_what_is_left():
    made = plan("160 g", {"A": "WW-FA-0203", "B": "own-number"})
    assert made.lots[0].opened == date(2026, 2, 16)
    assert made.shares[0].stock == G(2000)
    assert made.lots[1] == Lot("B", "own-number")


def test_a_volume_is_the_cavity_s_and_a_mass_stands():
    assert plan("1293 ml").total.g == pytest.approx(159.96, abs=0.01)
    assert plan("160 g").total == G(160)
    assert plan("").total == G(160)
    assert plan("").notes[0].startswith("160.0 g is usual for Kayak seat pad")


@pytest.mark.parametrize(
    ("amount", "says"), [("much", "Amount of mix"), ("12 fl oz", "Amount of mix"), ("6 lb/ft3", "Amount")]
)
def test_an_amount_that_is_neither_is_refused(amount, says):
    with pytest.raises(Refused, match=says):
        plan(amount)


def test_the_shelf_tells_what_is_left_after_casts_and_counts():
    lines = library(
        standing=Standing().with_use(LotUse("WW-FA-0203", G(100))).with_use(LotUse("WW-FB-0203", G(5), G(600)))
    ).lots()
    left = {line.number: line.left for line in lines}
    assert left["WW-FA-0203"] == G(1900)
    assert left["WW-FB-0203"] == G(595)
    assert not any(line.goes_next for line in lines)


def test_of_two_lots_the_one_that_ends_first_goes_next_and_is_offered_first():
    newer = Lot("A", "WW-FA-0301", G(2000), "example-foam", None, None, date(2027, 12, 31))
    both = replace(SHEETS, lots=(newer, *SHEETS.lots))
    lines = [line for line in library(both).lots() if line.component == "A" and "foam" in line.material]
    assert [line.number for line in lines if line.goes_next] == ["WW-FA-0203"]
    foam = next(m for m in SHEETS.materials if m.key == "example-foam")
    assert library(both).lots_of(foam)["A"] == ["WW-FA-0203", "WW-FA-0301"]


def queued(
    amounts: list[str], lots: dict[str, str], sheets: Sheets = SHEETS, adopted: tuple[AdviceAdopted, ...] = ()
) -> Standing:
    """The state after these amounts of foam were let wait."""
    standing = Standing(adopted=adopted)
    for ticket, amount in enumerate(amounts, 1):
        chosen = Chosen("example-foam", "kayak-seat-pad", amount, lots)
        command = library(sheets, standing).for_queue(chosen, "page")
        event = CastQueued(ticket, command.plan, command.amount, (), command.typed, "page")
        standing = replace(standing, queue=(*standing.queue, event))
    return standing


def test_each_plan_that_waits_is_checked_after_all_before_it():
    asked = Chosen("example-foam", "kayak-seat-pad", "150 g", {"A": "WW-FA-0203"})
    half = Lot("A", "WW-FA-0203", G(150), "example-foam")
    sheets = replace(SHEETS, lots=(half,))
    standing = queued(["150 g"], {"A": "WW-FA-0203"}, sheets)
    with pytest.raises(Impossible, match="are left of its lot"):
        library(sheets, standing).for_queue(asked, "page")
    instead = library(sheets, standing).for_queue(asked, "page", instead=1)
    assert instead.instead == 1
    emptied = standing.with_use(LotUse("WW-FA-0203", ZERO, G(20)))
    (line,) = library(sheets, emptied).waiting()
    assert [check.finding for check in line.checks] == [Finding.REFUSED]


def test_a_plan_that_waits_says_when_its_sheet_was_changed():
    standing = queued([""], {})
    (line,) = library(standing=standing).waiting()
    assert (line.ticket, line.mold, line.total) == (1, "Kayak seat pad", "160.0 g")
    changed = replace(SHEETS, molds=tuple(replace(mold, title="Seat pad, new") for mold in SHEETS.molds))
    (line,) = library(changed, standing).waiting()
    assert line.checks[0] == Check(Finding.LOOK, line.checks[0].words)
    assert "was changed since" in line.checks[0].words


def test_what_was_adopted_is_no_change_of_a_sheet():
    mixed = AdviceAdopted(AdviceKind.MIX_TIME, "", "example-foam", 20.0, None, None, (1, 2), "page")
    waiting = queued([""], {})
    adopted_since = replace(waiting, adopted=(mixed,))
    (line,) = library(standing=adopted_since).waiting()
    assert not any("was changed since" in check.words for check in line.checks)
    before = queued([""], {}, adopted=(mixed,))
    assert before.queue[0].plan.material.times.mix_s == 20.0
    (line,) = library(standing=before).waiting()
    assert not any("was changed since" in check.words for check in line.checks)
    (line,) = library(standing=replace(before, adopted=())).waiting()  # dropped since: the plan still has it
    assert any("was changed since" in check.words for check in line.checks)


def test_what_waits_can_be_asked_for_again_as_it_was_typed():
    standing = queued([""], {"A": "WW-FA-0203"})
    assert library(standing=standing).queued(1) == Chosen("example-foam", "kayak-seat-pad", "", {"A": "WW-FA-0203"})
    assert library(standing=standing).queued(2) is None


def test_a_cast_is_repeated_with_lots_that_are_still_on_the_shelf(tmp_path):
    made = plan("160 g", {"A": "WW-FA-0203", "B": "used-up"})
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        ledger.write([Entry(CastBegun(7, made, "page"), ScriptedClock().now())])
        shelf = Library(lambda: SHEETS, archive, lambda: TODAY, Standing)
        assert shelf.again(7) == Chosen("example-foam", "kayak-seat-pad", "160.0 g", {"A": "WW-FA-0203"})
        assert shelf.again(8) is None
        assert [(one.number, one.mold) for one in shelf.recent()] == [(7, "Kayak seat pad")]


def test_a_retired_mold_is_offered_last():
    keys = [mold.key for mold in library().molds()]
    retired = Standing(molds=(MoldCare(keys[0], 30, None, "torn"),))
    assert [mold.key for mold in library(standing=retired).molds()] == [*keys[1:], keys[0]]


def test_all_of_a_lot_is_brought_together_from_shelf_bench_and_record(tmp_path):
    made = plan("160 g", {"A": "WW-FA-0203"})
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        ledger.write([Entry(CastBegun(1, made, "page"), ScriptedClock().now())])
        standing = Standing().with_use(LotUse("WW-FA-0203", G(120)))
        shelf = Library(lambda: SHEETS, archive, lambda: TODAY, lambda: standing)
        seen = shelf.lot("WW-FA-0203")
        assert [(line.material, line.component, line.left) for line in seen.shelf] == [
            (made.material.title, "A", G(1880)),
        ]
        assert (seen.left, seen.known) == (G(1880), True)
        assert [(cast.number, cast.taken) for cast in seen.record.casts] == [(1, ZERO)]
        gone = shelf.lot("WW-FA-0001")
        assert (gone.shelf, gone.left, gone.known) == ((), None, False)
