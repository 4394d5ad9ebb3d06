"""Questions to the record: pages of casts, searches, counts and traces."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from sqlalchemy import event

from station.core import events as ev
from station.core.effects import KeepTrace
from station.core.events import Entry
from station.core.material import Mold
from station.core.time_events import TimeHeard
from station.records import Asked, CastPage, Stage
from station.store.archive import Archive
from station.store.ledger import SqlLedger
from station.testing import ScriptedClock
from tests.store.disk import opened
from tests.store.stories import G, Story, a_day, foam_plan


def pages(archive: Archive, asked: Asked, limit: int) -> list[list[int]]:
    """The numbers on each page, as somebody turns them to the end."""
    turned: list[list[int]] = []
    page = archive.page(asked, limit=limit)
    while page.lines:
        assert page.newer == bool(turned)
        turned.append([line.number for line in page.lines])
        if not page.older:
            break
        page = archive.page(asked, before=page.lines[-1].number, limit=limit)
    return turned


def flat(turned: list[list[int]]) -> list[int]:
    return [number for page in turned for number in page]


def test_casts_come_newest_first_in_pages(tmp_path: Path) -> None:
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        ledger.write(a_day(5))
        assert [line.number for line in archive.casts()] == [5, 4, 3, 2, 1]
        assert [line.number for line in archive.casts(limit=2)] == [5, 4]
        assert pages(archive, Asked(), 2) == [[5, 4], [3, 2], [1]]
        back = archive.page(Asked(), after=1, limit=2)
        assert ([line.number for line in back.lines], back.newer, back.older) == ([3, 2], True, True)
        assert archive.page(Asked(), before=1) == CastPage((), newer=False, older=False)
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
            assert flat(pages(archive, Asked(search), 1)) == numbers
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
        assert found('seat" OR "a') == []
        ledger.write([Entry(ev.Noted(2, "Dry RIDGE at the heel", "page"), story.clock.now())])
        assert found("ridge") == [2]
        assert found("dry seat a-0555 ri") == [2]


def test_casts_are_chosen_by_mold_material_end_and_day(tmp_path: Path) -> None:
    story = Story()
    for number in (1, 2, 3):
        story.whole_cast(number)
        story.clock.advance(86400)
    story.tell(ev.CastBegun(4, replace(foam_plan(), mold=Mold("grip", "Paddle grip")), "page"))
    story.tell(ev.Aborted(4, "spilled", "page"))
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        ledger.write(story.entries)
        days = [line.begun.wall for line in archive.casts()][::-1]

        def found(**asked: Any) -> list[int]:
            return flat(pages(archive, Asked(**asked), 2))

        assert found(mold="seat-pad") == [3, 2, 1]
        assert found(mold="grip", material="seat-foam") == [4]
        assert found(stage=Stage.GIVEN_UP) == [4]
        assert found(stage=Stage.GIVEN_UP, mold="seat-pad") == []
        assert found(since=days[1]) == [4, 3, 2]
        assert found(until=days[1]) == [1]
        assert found(since=days[1], until=days[3], search="kayak") == [3, 2]
        assert found(since=days[3] + timedelta(days=9)) == []
        assert [(one.key, one.title) for one in archive.molds()] == [
            ("seat-pad", "Kayak seat pad"),
            ("grip", "Paddle grip"),
        ]
        assert [one.key for one in archive.materials()] == ["seat-foam"]
        assert (archive.number(4), archive.number(5)) == (True, False)


def test_a_cast_begun_before_the_station_knew_the_time_is_found_under_its_true_day(tmp_path: Path) -> None:
    """The clock said March; an hour later the station hears that it is July."""
    clock = ScriptedClock()
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        wrong = replace(clock.now(), trusted=False)
        ledger.write([Entry(ev.CastBegun(1, foam_plan(), "page"), wrong)])
        july = datetime(2026, 7, 5, 9, 0, tzinfo=UTC)
        heard = replace(wrong, boot_s=wrong.boot_s + 3600, wall=july, trusted=True)
        ledger.write([Entry(TimeHeard(july.timestamp() - heard.boot_s), heard)])
        begun = july - timedelta(hours=1)
        assert [line.begun.wall for line in archive.casts()] == [begun]
        assert flat(pages(archive, Asked(since=begun, until=july), 5)) == [1]
        assert pages(archive, Asked(until=begun), 5) == []


def test_questions_walk_along_indexes(tmp_path: Path) -> None:
    """So that they stay quick at 100,000 casts: no question sorts, and none scans the journal, alarms or traces."""
    asked: list[tuple[str, Any]] = []
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        ledger.write(a_day(2))

        @event.listens_for(archive._engine, "before_cursor_execute")
        def _note(_db: Any, _cursor: Any, statement: str, values: Any, *_of: Any) -> None:
            if statement.startswith("SELECT"):
                asked.append((statement, values))

        archive.casts(limit=1)
        for wanted in (
            Asked("kayak 2"),
            Asked(stage=Stage.DEMOLDED),
            Asked(mold="seat-pad"),
            Asked(material="seat-foam", since=datetime(2026, 1, 1, tzinfo=UTC)),
        ):
            archive.page(wanted, limit=1)
            archive.page(wanted, after=1, limit=1)
        archive.molds()
        archive.materials()
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
