"""The scribe: a slow disk holds nobody up, a full one is tried again, and nothing is written twice or out of order."""

from __future__ import annotations

import threading
from collections.abc import Sequence
from pathlib import Path

import pytest

from station.core import events as ev
from station.core.effects import KeepTrace
from station.core.fold import replayed
from station.errors import LedgerFault, SlowDisk
from station.store.backup.contents import Belongings
from station.store.backup.shelf import BackupShelf
from station.store.chain import Row
from station.store.ledger import SqlLedger
from station.store.scribe import Scribe
from tests.store.stories import a_day

DAY = tuple(a_day(2))
WITHIN_S = 20.0


class Stuck(SqlLedger):
    """A ledger whose disk answers only when it is let."""

    let = threading.Event()
    tried = threading.Semaphore(0)

    def write(self, entries: Sequence[ev.Entry], traces: Sequence[KeepTrace] = ()) -> list[Row]:
        Stuck.tried.release()
        assert Stuck.let.wait(WITHIN_S)
        return super().write(entries, traces)


def _scribe(state: Path, make=SqlLedger, patience_s: float = WITHIN_S) -> Scribe:  # type: ignore[no-untyped-def]
    return Scribe(state, BackupShelf(Belongings(state), state / "backups", "0.1"), lambda: None, patience_s, make)


def test_a_disk_that_does_not_answer_is_said_to_be_slow_and_nothing_is_written_twice(tmp_path: Path) -> None:
    Stuck.let.clear()
    with _scribe(tmp_path, Stuck, patience_s=0.01) as scribe:
        with pytest.raises(SlowDisk, match="has not answered"):
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
    with _scribe(tmp_path, Stuck) as scribe:
        while Stuck.tried.acquire(blocking=False):
            pass
        threading.Thread(target=lambda: (Stuck.tried.acquire(), Stuck.let.set())).start()
        scribe.write(DAY[:3])
        assert scribe.end_row() == 3


def test_a_card_that_is_full_at_the_first_start_is_tried_again(tmp_path: Path) -> None:
    full = [True]

    def make(*given: object) -> SqlLedger:
        if full[0]:
            raise LedgerFault("The disk is full.", "Free some space.")
        return SqlLedger(*given)  # type: ignore[arg-type]

    with _scribe(tmp_path, make) as scribe:
        assert scribe.standing() == replayed(())
        assert scribe.last_seen() is None
        with pytest.raises(LedgerFault, match="full"):
            scribe.write(DAY[:2])
        full[0] = False
        scribe.write(DAY[:4])
    with SqlLedger(tmp_path) as ledger:
        assert tuple(ledger.entries()) == DAY[:4]


def test_a_start_from_the_checkpoint_gives_the_state_of_the_whole_journal(tmp_path: Path) -> None:
    for cut in (1, len(DAY) // 2, len(DAY)):
        state = tmp_path / str(cut)
        with _scribe(state) as scribe:
            scribe.write(DAY[:cut])
            scribe.keep_standing(replayed(DAY[:cut]))
            if DAY[cut:]:
                scribe.write(DAY[cut:])
        with _scribe(state) as scribe:
            assert scribe.standing() == replayed(DAY)
            assert scribe.last_seen() == DAY[-1].at


def test_a_checkpoint_of_other_code_or_of_another_journal_is_passed_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    wrong = replayed(DAY[:1])
    with _scribe(tmp_path) as scribe:
        scribe.write(DAY)
        scribe.keep_standing(wrong)
    with _scribe(tmp_path) as scribe:
        assert scribe.standing() == wrong, "the control: a checkpoint is really used"
    monkeypatch.setattr("station.store.checkpoint.folding_code", lambda: "other code")
    with _scribe(tmp_path) as scribe:
        assert scribe.standing() == replayed(DAY)


def test_a_record_that_changed_while_it_could_not_be_used_is_not_written_on(tmp_path: Path) -> None:
    """Entries that follow one history must not be put at the end of another."""
    full = [True]

    def make(*given: object) -> SqlLedger:
        if full[0]:
            raise LedgerFault("The disk is full.", "Free some space.")
        return SqlLedger(*given)  # type: ignore[arg-type]

    other = tmp_path / "other"
    with SqlLedger(other) as ledger:
        ledger.write(DAY[:3])
    state = tmp_path / "state"
    with _scribe(state, make) as scribe:
        (other / "record.db").rename(state / "record.db")
        full[0] = False
        with pytest.raises(LedgerFault, match="changed while it could not be used"):
            scribe.write(DAY[5:6])
    with SqlLedger(state) as ledger:
        assert tuple(ledger.entries()) == DAY[:3]
