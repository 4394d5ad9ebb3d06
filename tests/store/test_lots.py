"""From a lot to every cast that contains it, and to its counts: the whole way along indexes."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import event

from station.core import events as ev
from station.core.judging_events import Verdict
from station.records import Stage
from station.store.archive import Archive
from station.store.ledger import SqlLedger
from tests.store.disk import opened, tables
from tests.store.older import made_older
from tests.store.stories import G, Story, foam_plan


@pytest.fixture
def story() -> Story:
    """Four casts of lot A-0417 (one given up with some of it in the cup, one before), one of another, two counts."""
    told = Story()
    told.tell(ev.StationStarted(None, "0.1.0"))
    told.tell(ev.LotCounted("A-0417", G(2240), G(240), G(2000), "page"))
    told.whole_cast(1)
    told.weigh_both(2, a="191.0")
    told.tell(ev.Aborted(2, "the cup tipped", "page"), 5)
    told.whole_cast(3, lot="A-0555")
    told.tell(ev.CastBegun(4, foam_plan(), "page"), 30)
    told.tell(ev.Aborted(4, "no time", "page"), 5)
    told.tell(ev.LotCounted("A-0417", G(1860), G(240), G(1620), "page"))
    told.tell(ev.Judged(1, Verdict.USABLE, (), "", "page"))
    told.weigh_both(5)
    told.tell(ev.Reopened(5, 3, "B", G("126.9")), 2)
    return told


def test_every_cast_that_contains_a_lot_is_found_with_how_much_of_it(tmp_path: Path, story: Story) -> None:
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        ledger.write(story.entries)
        found = archive.lot("A-0417")
        begun = {line.number: line.begun for line in archive.casts()}
        assert [(cast.number, cast.ingredient, cast.taken, cast.stage) for cast in found.casts] == [
            (5, "A", G(190), Stage.AT_BENCH),
            (4, "A", G(0), Stage.GIVEN_UP),
            (2, "A", G(191), Stage.GIVEN_UP),
            (1, "A", G(190), Stage.DEMOLDED),
        ]
        assert all(cast.begun == begun[cast.number] for cast in found.casts)
        assert [cast.number for cast in found.casts if cast.contains] == [5, 2, 1]
        assert [cast.number for cast in found.parts] == [5, 1]  # that of 5 is not poured yet, and will be
        assert [cast.verdict for cast in found.casts] == [None, None, None, Verdict.USABLE]
        assert found.known
        assert not found.older
        b = archive.lot("B-0093")
        # What was reopened counts no more; its weighing began anew.
        assert [(cast.number, cast.taken) for cast in b.casts][:2] == [(5, G(0)), (4, G(0))]
        assert [cast.number for cast in b.parts] == [3, 1]
        assert not archive.lot("a-0417").known  # a lot is what stands on its container, letter by letter


def test_its_counts_are_told_in_their_order(tmp_path: Path, story: Story) -> None:
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        ledger.write(story.entries)
        assert [(count.left, count.by) for count in archive.lot("A-0417").counts] == [
            (G(2000), "page"),
            (G(1620), "page"),
        ]
        assert archive.lot("B-0093").counts == ()


def test_the_forward_way_leads_back(tmp_path: Path, story: Story) -> None:
    """Each lot that a cast's own record names has that cast among its casts, and no other lot has."""
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        ledger.write(story.entries)
        forward = {
            (part.lot, line.number) for line in archive.casts() for part in archive.record(line.number).ingredients
        }  # type: ignore[union-attr]
        back = {(lot, cast.number) for lot, _ in forward for cast in archive.lot(lot).casts}
    assert forward == back
    assert len(forward) == 10


def test_a_lot_of_many_casts_is_turned_by_numbers(tmp_path: Path) -> None:
    story = Story()
    for number in range(1, 6):
        story.whole_cast(number)
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        ledger.write(story.entries)
        first = archive.lot("A-0417", limit=2)
        assert ([cast.number for cast in first.casts], first.older) == ([5, 4], True)
        last = archive.lot("A-0417", before=3, limit=2)
        assert ([cast.number for cast in last.casts], last.older) == ([2, 1], False)


def test_an_older_record_tells_the_same_of_its_lots_once_it_is_brought_up_to_date(tmp_path: Path, story: Story) -> None:
    with SqlLedger(tmp_path) as ledger:
        ledger.write(story.entries)
    record = tmp_path / "record.db"
    before = tables(record)
    assert len(before["cast_lots"]) == 10
    made_older(record, "0004")
    with opened(record) as db:
        assert db.execute("SELECT count(*) FROM sqlite_master WHERE name = 'cast_lots'").fetchone() == (0,)
    SqlLedger(tmp_path).close()
    assert tables(record) == before


def test_the_question_walks_along_indexes(tmp_path: Path, story: Story) -> None:
    asked: list[tuple[str, Any]] = []
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        ledger.write(story.entries)

        @event.listens_for(archive._engine, "before_cursor_execute")
        def _note(_db: Any, _cursor: Any, statement: str, values: Any, *_of: Any) -> None:
            if "cast_lots" in statement or "lot_counts" in statement:
                asked.append((statement, values))

        archive.lot("A-0417")
        archive.lot("A-0417", before=3)
    # SQLite's words for how it finds rows: its documentation, "EXPLAIN QUERY PLAN".
    with opened(tmp_path / "record.db") as db:
        plans = [
            "; ".join(str(row[3]) for row in db.execute(f"EXPLAIN QUERY PLAN {sql}", values)) for sql, values in asked
        ]
    assert len(plans) == 4
    for plan in plans:
        assert "TEMP B-TREE" not in plan, plan
        for table in ("cast_lots", "lot_counts", "casts", "journal", "weighings"):
            assert f"SCAN {table}" not in plan, plan
