"""Questions to the record: pages of casts, searches, counts and traces."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from sqlalchemy import event

from station.core.effects import KeepTrace
from station.records import Stage
from station.store.archive import Archive
from station.store.ledger import SqlLedger
from tests.store.disk import opened
from tests.store.stories import G, Story, a_day


def test_casts_come_newest_first_in_pages(tmp_path: Path) -> None:
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        ledger.write(a_day(5))
        assert [line.number for line in archive.casts()] == [5, 4, 3, 2, 1]
        assert [line.number for line in archive.casts(limit=2, offset=1)] == [4, 3]
        assert archive.casts(limit=2, offset=5) == ()
        assert archive.count() == archive.count(stage=Stage.DEMOLDED) == 5
        assert archive.count(stage=Stage.LOST) == 0
        line = archive.casts(limit=1)[0]
        assert (line.material, line.mold, line.total, line.way) == ("Seat foam", "Kayak seat pad", G(300), "two cups")
        assert (line.stage, line.alarms, line.missed) == (Stage.DEMOLDED, 1, 0)
        assert line.begun.sure


def test_casts_are_found_by_lot_number_title_and_cast_number(tmp_path: Path) -> None:
    story = Story()
    for number, lot in ((1, "A-0417"), (2, "A-0555"), (3, "100%_pure")):
        story.whole_cast(number, lot)
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        ledger.write(story.entries)

        def found(search: str) -> list[int]:
            numbers = [line.number for line in archive.casts(search=search)]
            assert archive.count(search) == len(numbers)
            return numbers

        assert found("a-0555") == [2]
        assert found("KAYAK seat") == [3, 2, 1]
        assert found("seat 0417") == [1]
        assert found("2") == [2]
        assert found("100%_pure") == [3]
        assert found("%") == [3]
        assert found("nothing like it") == []
        assert found("  ") == [3, 2, 1]
        assert found("9" * 30) == []


def test_questions_walk_along_indexes(tmp_path: Path) -> None:
    """So that they stay quick at 100,000 casts: no question sorts, and none scans the journal, alarms or traces."""
    asked: list[tuple[str, Any]] = []
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        ledger.write(a_day(2))

        @event.listens_for(archive._engine, "before_cursor_execute")
        def _note(_db: Any, _cursor: Any, statement: str, values: Any, *_of: Any) -> None:
            if statement.startswith("SELECT"):
                asked.append((statement, values))

        archive.casts(limit=1, offset=1)
        archive.count()
        archive.count(stage=Stage.IN_MOLD)
        archive.record(2)
        archive.trace(2, 1)
    # SQLite's words for how it finds rows: its documentation, "EXPLAIN QUERY PLAN".
    with opened(tmp_path / "record.db") as db:
        plans = {
            sql: "; ".join(str(row[3]) for row in db.execute(f"EXPLAIN QUERY PLAN {sql}", values))
            for sql, values in asked
        }
    assert len(plans) >= 9
    for sql, plan in plans.items():
        assert "TEMP B-TREE" not in plan, (sql, plan)
        for table in ("journal", "alarms", "traces"):
            assert f"SCAN {table}" not in plan, (sql, plan)
    counts = [plan for sql, plan in plans.items() if sql.startswith("SELECT count(*)")]
    assert "COVERING INDEX" in counts[0]
    assert "ix_casts_stage_number" in counts[1]


def test_a_cast_that_never_was_has_no_record(tmp_path: Path) -> None:
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        ledger.write(a_day(1))
        assert archive.record(2) is None
        assert archive.trace(1, 3) is None


def test_traces_are_kept_and_the_latest_of_a_step_counts(tmp_path: Path) -> None:
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        ledger.write(a_day(1), [KeepTrace(1, 1, ((0.0, 0), (0.5, 800)))])
        ledger.write([], [KeepTrace(1, 1, ((0.0, 10), (0.25, 900))), KeepTrace(1, 3, ())])
        assert archive.trace(1, 1) == ((0.0, 10), (0.25, 900))
        assert archive.trace(1, 3) == ()
