"""Damage that no start has seen: whatever the bench does next ends well or says so, and never in a bug's words."""

from __future__ import annotations

import random
import sqlite3
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pytest

from station.core import events as ev
from station.core.fold import replayed
from station.errors import LedgerFault
from station.store.faults import RecordDamaged
from station.store.ledger import SqlLedger
from station.store.verify import verify
from tests.store.rescue.test_damage import AT, DAY, _cut_off, _into_one_file, _scribe

LATER = ev.Entry(ev.TemperatureNoted(21.5), AT)


def _with_checkpoint(folder: Path) -> Path:
    state = _cut_off(folder)
    with SqlLedger(state) as ledger:
        ledger.keep_standing(replayed(DAY))
    _into_one_file(state)
    return state


@pytest.mark.parametrize("seed", [*range(12), *(pytest.param(seed, marks=pytest.mark.soak) for seed in range(12, 60))])
def test_random_damage_is_met_in_words_by_all_that_a_running_bench_asks(tmp_path: Path, seed: int) -> None:
    """One spot of 200 bytes, as a worn card spoils them, in a record that starts from a checkpoint."""
    chance = random.Random(seed)
    state = _with_checkpoint(tmp_path)
    content = bytearray((state / "record.db").read_bytes())
    start = chance.randrange(4096, len(content) - 200)
    content[start : start + 200] = chance.randbytes(200)
    (state / "record.db").write_bytes(content)
    with _scribe(state) as scribe:
        asked: tuple[Callable[[], object], ...] = (
            scribe.standing,
            scribe.last_seen,
            lambda: scribe.write([LATER]),
            lambda: scribe.heartbeat(AT),
            lambda: scribe.keep_standing(replayed(DAY)),
        )
        for one in asked:
            with suppress(LedgerFault):
                one()
        if words := _damage(state / "record.db"):
            scribe.damaged(words)
            scribe.restore(AT)
    assert verify(state / "record.db").ok
    with SqlLedger(state) as ledger:
        rows = tuple(ledger.entries())
    assert rows in {(*DAY[:end], *more) for end in range(len(DAY) // 2, len(DAY) + 1) for more in ((), (LATER,))}


def _damage(record: Path) -> str:
    """What a check says is wrong; empty when all is whole."""
    found = verify(record)
    return "" if found.ok else found.words


def test_spoilt_evidence_of_when_the_station_ran_does_not_keep_it_from_starting(tmp_path: Path) -> None:
    state = _with_checkpoint(tmp_path)
    _spoil_table(state, "evidence")
    with _scribe(state) as scribe:
        scribe.standing()
        assert scribe.last_seen() == DAY[-1].at
        assert scribe.health().damage
        assert scribe.restore(AT).rows == len(DAY)


def test_text_that_is_no_text_is_damage(tmp_path: Path) -> None:
    """The first row is spoilt, which a start from the checkpoint does not read; the first write does."""
    state = _with_checkpoint(tmp_path)
    content = (state / "record.db").read_bytes()
    (state / "record.db").write_bytes(content.replace(b"0" * 64, b"0" * 40 + b"\xff\xfe" * 12))
    with _scribe(state) as scribe:
        scribe.standing()
        with pytest.raises(RecordDamaged):
            scribe.write([LATER])
        assert scribe.health().damage
        scribe.restore(AT)
        scribe.write([LATER])
    with SqlLedger(state) as ledger:
        assert tuple(ledger.entries()) == (*DAY, LATER)


def _spoil_table(state: Path, name: str) -> None:
    with sqlite3.connect(state / "record.db") as db:
        (page,) = db.execute("SELECT rootpage FROM sqlite_master WHERE name = ?", (name,)).fetchone()
        (size,) = db.execute("PRAGMA page_size").fetchone()
    db.close()
    with (state / "record.db").open("r+b") as file:
        file.seek((page - 1) * size)
        file.write(b"x" * size)


def test_the_judge_of_these_tests_sees_a_lost_row(tmp_path: Path) -> None:
    """The control: a record with one row less in its middle is none of the stories that may be found."""
    with SqlLedger(tmp_path) as ledger:
        ledger.write([*DAY[: len(DAY) // 2 - 1], LATER])
        rows = tuple(ledger.entries())
    assert rows not in {(*DAY[:end], LATER) for end in range(len(DAY) // 2, len(DAY) + 1)}
