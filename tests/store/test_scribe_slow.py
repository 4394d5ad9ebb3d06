"""The scribe on a slow disk: it holds up the bench once at most, and nothing is lost, doubled or out of order."""

from __future__ import annotations

import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import pytest

from station.core import events as ev
from station.core.effects import KeepTrace
from station.errors import LedgerFault, SlowDisk
from station.store.chain import Row
from station.store.ledger import SqlLedger
from station.store.scribe import Scribe
from station.testing import ScriptedClock
from tests.store.scribes import WITHIN_S, scribe_on
from tests.store.stories import a_day

DAY = tuple(a_day(2))


class Stuck(SqlLedger):
    """A ledger whose disk answers only when it is let."""

    let = threading.Event()
    tried = threading.Semaphore(0)

    def write(self, entries: Sequence[ev.Entry], traces: Sequence[KeepTrace] = ()) -> list[Row]:
        Stuck.tried.release()
        assert Stuck.let.wait(WITHIN_S)
        return super().write(entries, traces)


class Lagging(SqlLedger):
    """A ledger whose disk takes `takes_s` of the scripted clock for each write, and really waits for `let`."""

    clock = ScriptedClock()
    takes_s = 0.0
    let = threading.Event()
    full = False
    begun = 0

    def write(self, entries: Sequence[ev.Entry], traces: Sequence[KeepTrace] = ()) -> list[Row]:
        Lagging.begun += 1
        assert Lagging.let.wait(WITHIN_S)
        Lagging.clock.advance(Lagging.takes_s)
        if Lagging.full:
            raise LedgerFault("The disk is full.", "Free some space.")
        return super().write(entries, traces)


@contextmanager
def _overrun(state: Path) -> Iterator[Scribe]:
    """A scribe whose first write, of one entry, took longer than the patience of ten minutes, by the clock's ticks."""
    Lagging.clock, Lagging.takes_s, Lagging.full, Lagging.begun = ScriptedClock(), 1000.0, False, 0
    Lagging.let.set()
    with scribe_on(state, Lagging, 600.0, Lagging.clock) as scribe:
        scribe.write(DAY[:1])
        yield scribe


def _turned_away(scribe: Scribe, rows: int) -> None:
    """These entries are handed in while the disk does not answer: nobody waits, and then it does."""
    met: list[BaseException] = []

    def hand_in() -> None:
        try:
            scribe.write(DAY[:rows])
        except BaseException as why:
            met.append(why)

    Lagging.let.clear()
    bench = threading.Thread(target=hand_in, daemon=True)
    bench.start()
    bench.join(WITHIN_S)
    assert not bench.is_alive(), "the bench waits for the disk"
    Lagging.let.set()
    assert [type(why) for why in met] == [SlowDisk]


def _settled(scribe: Scribe, rows: int) -> None:
    """Wait until the disk has answered; `rows` are then on it. What the record's thread has begun goes first."""
    scribe.last_seen()
    assert scribe.end_row() == rows


def test_a_disk_that_does_not_answer_is_said_to_be_slow_and_nothing_is_written_twice(tmp_path: Path) -> None:
    Stuck.let.clear()
    with scribe_on(tmp_path, Stuck, patience_s=0.01) as scribe:
        with pytest.raises(SlowDisk, match="is slow"):
            scribe.write(DAY[:3])
        for _ in range(3):  # while it is still at it nothing more is asked of it
            with pytest.raises(SlowDisk, match="is slow"):
                scribe.write(DAY[:5])
        with pytest.raises(SlowDisk):
            scribe.heartbeat(DAY[0].at)
        assert scribe.health().slow
        Stuck.let.set()
        for _ in range(1000):
            try:
                scribe.write(DAY[:5])
                break
            except SlowDisk:
                threading.Event().wait(0.01)
        assert scribe.end_row() == 5
    with SqlLedger(tmp_path) as ledger:
        assert tuple(ledger.entries()) == DAY[:5]


def test_an_answer_within_patience_is_waited_for(tmp_path: Path) -> None:
    Stuck.let.clear()
    with scribe_on(tmp_path, Stuck) as scribe:
        while Stuck.tried.acquire(blocking=False):
            pass
        threading.Thread(target=lambda: (Stuck.tried.acquire(), Stuck.let.set())).start()
        scribe.write(DAY[:3])
        assert scribe.end_row() == 3


def test_after_one_overrun_no_write_is_waited_for_while_the_disk_stays_slow(tmp_path: Path) -> None:
    with _overrun(tmp_path) as scribe:
        for rows in (2, 3):
            assert scribe.health().slow
            _turned_away(scribe, rows)
            _settled(scribe, rows)
        begun = Lagging.begun
        scribe.write(DAY[:3])  # they have arrived: said so without asking the disk again
        assert Lagging.begun == begun
    with SqlLedger(tmp_path) as ledger:
        assert tuple(ledger.entries()) == DAY[:3]


def test_a_write_that_comes_back_in_time_is_the_end_of_a_slow_disk(tmp_path: Path) -> None:
    with _overrun(tmp_path) as scribe:
        Lagging.takes_s = 0.1
        _turned_away(scribe, 2)  # nobody knows yet that this one will be quick
        _settled(scribe, 2)
        assert not scribe.health().slow
        scribe.write(DAY[:5])
        assert scribe.end_row() == 5


def test_what_a_write_met_that_nobody_waited_for_is_told_to_the_next(tmp_path: Path) -> None:
    with _overrun(tmp_path) as scribe:
        Lagging.full = True
        _turned_away(scribe, 2)
        _settled(scribe, 1)
        with pytest.raises(LedgerFault, match="full"):
            scribe.write(DAY[:3])
        Lagging.full = False
        _turned_away(scribe, 3)
        _settled(scribe, 3)
        scribe.write(DAY[:3])
    with SqlLedger(tmp_path) as ledger:
        assert tuple(ledger.entries()) == DAY[:3]


def test_a_sign_of_life_reaches_a_slow_disk_without_being_waited_for(tmp_path: Path) -> None:
    with _overrun(tmp_path) as scribe:
        later = replace(DAY[0].at, boot_s=DAY[0].at.boot_s + 3600)
        scribe.heartbeat(later)
        assert scribe.last_seen() == later


def test_entries_that_were_turned_away_are_on_the_disk_when_the_scribe_has_closed(tmp_path: Path) -> None:
    Lagging.clock, Lagging.takes_s, Lagging.full = ScriptedClock(), 2.0, False
    Lagging.let.clear()
    with scribe_on(tmp_path, Lagging, patience_s=0.01) as scribe:
        for rows in (2, 4):
            with pytest.raises(SlowDisk):
                scribe.write(DAY[:rows])
        Lagging.let.set()
    with SqlLedger(tmp_path) as ledger:
        assert tuple(ledger.entries()) == DAY[:4]
