"""The ledger: all or nothing, in order, once, from one thread, and on disk before it says so."""

from __future__ import annotations

import sqlite3
import threading
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import event

from station.core import events as ev
from station.core.effects import KeepTrace
from station.core.events import Entry
from station.errors import LedgerFault
from station.ports import Ledger
from station.store.archive import Archive
from station.store.ledger import SqlLedger
from station.store.verify import verify
from station.testing import ScriptedClock
from tests.store.disk import opened, table, tables
from tests.store.stories import Story, a_day
from tests.store.strategies import ENTRIES, spaced


def test_what_was_written_is_read_back_in_order_by_the_next_station(tmp_path: Path) -> None:
    day = a_day()
    with SqlLedger(tmp_path) as ledger:
        port: Ledger = ledger
        for entry in day:
            port.write([entry])
        assert tuple(port.entries()) == day
    with SqlLedger(tmp_path) as again:
        assert tuple(again.entries()) == day
        assert again.last_seen() == day[-1].at


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(entries=st.lists(ENTRIES, max_size=8).map(spaced), cut=st.integers(0, 8))
def test_any_entries_come_back_as_they_were_however_they_are_bundled(
    tmp_path_factory: pytest.TempPathFactory, entries: list[Entry], cut: int
) -> None:
    folder = tmp_path_factory.mktemp("record")
    with SqlLedger(folder) as ledger:
        ledger.write(entries[:cut])
        ledger.write(entries[cut:])
        assert list(ledger.entries()) == entries
        assert verify(ledger.place).ok


def test_writing_again_after_an_unheard_success_repeats_nothing(tmp_path: Path) -> None:
    day = a_day(1)
    with SqlLedger(tmp_path) as ledger:
        ledger.write(day[:4])
        # The caller did not learn of it, and comes again with what has happened since.
        ledger.write(day[:4])
        ledger.write(day[2:6])
        ledger.write(day[:0])
        assert tuple(ledger.entries()) == day[:6]
        assert verify(ledger.place).rows == 6


def test_the_same_deed_at_another_moment_is_another_row(tmp_path: Path) -> None:
    clock = ScriptedClock()
    pause = ev.Paused(1, "pedal")
    with SqlLedger(tmp_path) as ledger:
        ledger.write([Entry(pause, clock.now())])
        ledger.write([Entry(pause, clock.advance(1))])
        assert len(list(ledger.entries())) == 2


class _Failure:
    """Makes the n-th statement (or the commit) of the writer fail as a bad card would."""

    def __init__(self, ledger: SqlLedger, at: int) -> None:
        self.count = 0
        self.at = at
        event.listen(ledger._writer, "before_cursor_execute", self._statement)
        event.listen(ledger._writer, "commit", self._commit)

    def _statement(self, *_of: Any) -> None:
        self._one_more()

    def _commit(self, *_of: Any) -> None:
        self._one_more()

    def _one_more(self) -> None:
        self.count += 1
        if self.count == self.at:
            raise OSError(5, "Input/output error")


def test_a_card_that_fails_at_any_point_leaves_nothing_half_written(tmp_path: Path) -> None:
    """For call N = 1, 2, … until a write is clean: fault, nothing there, and the same write then succeeds."""
    day = list(a_day(1))
    trace = KeepTrace(1, 1, ((0.0, 0), (0.1, 500)))
    failed = 0
    for at in range(1, 1000):
        folder = tmp_path / str(at)
        with SqlLedger(folder) as ledger:
            ledger.write(day[:3])
            before = tables(folder / "record.db"), table(folder / "record.db", "evidence")
            failure = _Failure(ledger, at)
            sentence = ""
            try:
                ledger.write(day[3:], [trace])
            except LedgerFault as fault:
                sentence = fault.sentence()
            if sentence:
                failed += 1
                assert "disk does not take" in sentence
                assert list(ledger.entries()) == day[:3]
                assert (tables(folder / "record.db"), table(folder / "record.db", "evidence")) == before
                assert table(folder / "record.db", "traces") == []
                ledger.write(day[3:], [trace])
            assert list(ledger.entries()) == day
            assert verify(ledger.place).ok
            if failure.count < at:
                break
    else:
        pytest.fail("no write came through")
    assert failed == at - 1 > 20


def test_a_full_disk_is_told_and_written_later(tmp_path: Path) -> None:
    day = list(a_day(30))
    with SqlLedger(tmp_path) as ledger:

        @event.listens_for(ledger._writer, "begin")
        def _limit(db: Any) -> None:
            db.exec_driver_sql(f"PRAGMA max_page_count = {pages}")

        pages = 30
        with pytest.raises(LedgerFault, match="The disk is full"):
            ledger.write(day)
        assert list(ledger.entries()) == []
        pages = 100_000
        ledger.write(day)
        assert list(ledger.entries()) == day


def test_only_the_first_writing_thread_may_write(tmp_path: Path) -> None:
    day = a_day(1)
    bugs: list[BaseException] = []

    def intrude() -> None:
        for deed in (lambda: ledger.write(day[1:2]), lambda: ledger.heartbeat(day[1].at)):
            try:
                deed()
            except RuntimeError as bug:
                bugs.append(bug)

    with SqlLedger(tmp_path) as ledger:
        ledger.write(day[:1])
        thread = threading.Thread(target=intrude)
        thread.start()
        thread.join(20)
        assert [str(bug) for bug in bugs] == ["only the thread that wrote first may write to the record"] * 2
        assert tuple(ledger.entries()) == day[:1]


def test_heartbeats_are_evidence_and_take_no_room(tmp_path: Path) -> None:
    clock = ScriptedClock()
    with SqlLedger(tmp_path) as ledger:
        assert ledger.last_seen() is None
        for _ in range(50):
            ledger.heartbeat(clock.advance(60))
        assert ledger.last_seen() == clock.now()
        assert len(table(tmp_path / "record.db", "evidence")) == 1
        late = ledger.last_seen()
        ledger.write([Entry(ev.TemperatureNoted(20.0), ScriptedClock().now())])  # waited in memory, an hour old
        assert ledger.last_seen() == late
        clock.reboot(300)
        ledger.heartbeat(clock.now())
        assert ledger.last_seen() == clock.now()
        assert len(table(tmp_path / "record.db", "evidence")) == 2


def test_a_wall_clock_trusted_later_corrects_what_was_written_before(tmp_path: Path) -> None:
    clock = ScriptedClock()
    clock.step_wall(-86_400 * 3)
    clock.trust(False)
    story = Story(clock)
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        story.weigh_both(1)
        ledger.write(story.entries)
        (wrong,) = archive.casts()
        assert not wrong.begun.sure
        assert wrong.begun.wall == story.entries[0].at.wall
        clock.step_wall(0)
        clock.trust()
        ledger.heartbeat(clock.now())
        (right,) = archive.casts()
        assert right.begun.sure
        assert (right.begun.wall - wrong.begun.wall).total_seconds() == pytest.approx(86_400 * 3, abs=1e-3)
        assert next(iter(ledger.entries())) == story.entries[0]  # the journal keeps what was known then


def test_a_time_set_by_hand_corrects_the_boot_and_the_time_service_outdoes_it(tmp_path: Path) -> None:
    clock = ScriptedClock()
    clock.step_wall(-86_400 * 3)
    clock.trust(False)
    story = Story(clock)
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        story.weigh_both(1)
        ledger.write(story.entries)
        wrong = story.entries[0].at.wall

        def shown_ahead_s() -> float:
            (cast,) = archive.casts()
            assert cast.begun.sure
            return (cast.begun.wall - wrong).total_seconds()

        now = clock.now()
        for days in (2, 4):
            clock.told(now.wall.timestamp() + days * 86_400 - now.boot_s)
            ledger.heartbeat(clock.now())
            assert shown_ahead_s() == pytest.approx(days * 86_400, abs=1e-3)
            last = ledger.last_seen()
            assert last is not None
            assert last.by_hand
        clock.trust()
        ledger.heartbeat(clock.now())
        assert shown_ahead_s() == pytest.approx(3 * 86_400, abs=1e-3)
        clock.trust(False)
        ledger.heartbeat(clock.now())
        assert shown_ahead_s() == pytest.approx(3 * 86_400, abs=1e-3)


def test_readers_can_write_nothing(tmp_path: Path) -> None:
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        ledger.write(a_day(1))
        for statement in ("DELETE FROM casts", "CREATE TABLE t (x)", "UPDATE evidence SET ordinal = 9"):
            with pytest.raises(Exception, match="readonly"), archive._engine.begin() as db:
                db.exec_driver_sql(statement)
        assert archive.count() == 1


def test_the_journal_refuses_to_be_changed(tmp_path: Path) -> None:
    with SqlLedger(tmp_path) as ledger:
        ledger.write(a_day(1))
    with opened(tmp_path / "record.db") as db:
        for statement in ("DELETE FROM journal WHERE seq = 3", "UPDATE journal SET payload = '{}' WHERE seq = 3"):
            with pytest.raises(sqlite3.IntegrityError, match="the journal only grows"):
                db.execute(statement)
    assert verify(tmp_path / "record.db").ok


def test_a_reader_sees_a_write_only_when_it_is_whole(tmp_path: Path) -> None:
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        ledger.write(a_day(1))
        seen: list[int] = []
        story = Story()
        story.clock.advance(10_000)
        story.whole_cast(2)

        @event.listens_for(ledger._writer, "commit")
        def _look(_db: Any) -> None:
            seen.append(archive.count())

        ledger.write(story.entries)
        assert seen == [1]
        assert archive.count() == 2
