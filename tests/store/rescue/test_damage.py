"""A damaged record: found at the start, left as it is, gone on from, and restored with all that was whole."""

from __future__ import annotations

import random
import re
import shutil
import sqlite3
from collections.abc import Callable, Sequence
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from station.core import events as ev
from station.core.fold import replayed
from station.core.moment import Moment
from station.errors import LedgerFault
from station.installing.asking import record_version
from station.store.backup.contents import Belongings
from station.store.backup.shelf import BackupShelf
from station.store.faults import RecordDamaged
from station.store.glance import rows_at_a_glance
from station.store.ledger import SqlLedger
from station.store.scribe import Scribe
from station.store.verify import verify
from tests.store.stories import a_day

AT = Moment(9000.0, "boot-9", datetime(2026, 11, 26, 2, 30, tzinfo=UTC), True)
DAY = tuple(a_day(6))
SAVED = len(DAY) // 2


def _nothing() -> None:
    return None


def _shelf(state: Path) -> BackupShelf:
    return BackupShelf(Belongings(state), state / "backups", "0.1")


def _cut_off(folder: Path, entries: Sequence[ev.Entry] = DAY, backup_after: int | None = SAVED) -> Path:
    """A state folder as a kill leaves it: half of the entries saved in a backup, the last ones only in the log."""
    working = folder / "working"
    with SqlLedger(working) as ledger:
        for n, entry in enumerate(entries):
            if n == backup_after:
                _shelf(working).make(AT, "test")
            ledger.write([entry])
        state = folder / "state"
        shutil.copytree(working, state)
    (state / "station.lock").unlink()
    return state


def _scribe(state: Path) -> Scribe:
    return Scribe(state, _shelf(state), _nothing, lambda: 0.0, patience_s=60)


def _bytes(state: Path) -> dict[str, bytes]:
    files = [file for file in state.glob("record.db*") if not file.name.endswith("-shm")]
    return {file.name: file.read_bytes() for file in files if file.stat().st_size}


def _into_one_file(state: Path) -> None:
    with closing(sqlite3.connect(state / "record.db")) as db:
        db.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchall()


def _bad_header(state: Path) -> None:
    _into_one_file(state)  # while the log holds the first page, the header in the file counts for nothing
    with (state / "record.db").open("r+b") as file:
        file.write(b"x" * 100)


def _emptied(state: Path) -> None:
    (state / "record.db").write_bytes(b"")


def _gone(state: Path) -> None:
    for file in state.glob("record.db*"):
        file.unlink()


def _log_gone(state: Path) -> None:
    (state / "record.db-wal").unlink()


def _log_of_another(state: Path) -> None:
    other = _cut_off(state.parent / "other", a_day(2), None)
    shutil.copyfile(other / "record.db-wal", state / "record.db-wal")


def _row_changed(state: Path) -> None:
    _row_changed_at(state, SAVED - 3)


DAMAGES = [_bad_header, _emptied, _gone, _log_gone, _log_of_another, _row_changed]


@pytest.mark.parametrize("damage", DAMAGES)
def test_a_damaged_record_is_left_alone_gone_on_from_and_restored(
    tmp_path: Path, damage: Callable[[Path], None]
) -> None:
    state = _cut_off(tmp_path)
    damage(state)
    as_found = _bytes(state)
    later = [ev.Entry(ev.TemperatureNoted(21.5), AT), ev.Entry(ev.TemperatureNoted(22.0), AT)]
    with _scribe(state) as scribe:
        standing, health = scribe.standing(), scribe.health()
        assert health.damage
        assert health.rescue is not None
        end = health.rescue.end
        assert end >= SAVED
        assert standing == replayed(DAY[:end])
        with pytest.raises(RecordDamaged) as refused:
            scribe.write(later)
        assert "tarebell restore" in refused.value.sentence()
        assert _bytes(state) == as_found
        done = scribe.restore(AT)
        assert scribe.health().damage == ""
        scribe.write(later)
    assert done.rows == end
    assert end + done.lost == len(DAY) or damage is _gone
    if as_found:
        assert done.set_aside is not None
        assert _bytes(done.set_aside) == as_found
    assert verify(state / "record.db").ok
    with SqlLedger(state) as ledger:
        assert tuple(ledger.entries()) == (*DAY[:end], *later)


def test_a_changed_row_loses_nothing_when_a_backup_holds_it(tmp_path: Path) -> None:
    """The rows after it are whole, and go on from the backup's end."""
    state = _cut_off(tmp_path)
    _row_changed(state)
    with _scribe(state) as scribe:
        assert scribe.standing() == replayed(DAY)
        done = scribe.restore(AT)
    assert (done.rows, done.lost) == (len(DAY), 0)


def test_without_a_backup_the_rows_before_the_damage_are_saved(tmp_path: Path) -> None:
    state = _cut_off(tmp_path, backup_after=None)
    _row_changed(state)
    with _scribe(state) as scribe:
        scribe.standing()
        done = scribe.restore(AT)
    assert (done.rows, done.lost, done.base) == (SAVED - 4, len(DAY) - SAVED + 4, "")


def test_a_spoilt_backup_is_passed_over_for_an_older_good_one(tmp_path: Path) -> None:
    state = _cut_off(tmp_path, backup_after=4)
    with SqlLedger(state):
        newer = _shelf(state).make(replace(AT, wall=AT.wall + timedelta(days=1)), "newer")
    newer.file.write_bytes(newer.file.read_bytes()[:-200])
    _gone(state)
    with _scribe(state) as scribe:
        scribe.standing()
        assert scribe.restore(AT).rows == 4


def test_backups_of_another_record_are_not_restored_here(tmp_path: Path) -> None:
    state = _cut_off(tmp_path, DAY[:6], None)
    longer = [ev.Entry(ev.TemperatureNoted(float(n)), entry.at) for n, entry in enumerate(DAY)]
    other = _cut_off(tmp_path / "other", longer, 40 if len(longer) > 40 else len(longer) - 1)
    shutil.copytree(other / "backups", state / "backups")
    _row_changed_at(state, 4)
    with _scribe(state) as scribe:
        assert scribe.standing() == replayed(DAY[:3])
        assert scribe.restore(AT).base == ""


def _row_changed_at(state: Path, seq: int) -> None:
    _into_one_file(state)
    db = sqlite3.connect(state / "record.db")
    for (name,) in db.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
        db.execute(f"DROP TRIGGER {name}")
    db.execute("UPDATE journal SET boot_s = boot_s + 1 WHERE seq = ?", (seq,))
    db.commit()
    db.close()


@pytest.mark.parametrize("seed", [*range(20), *(pytest.param(seed, marks=pytest.mark.soak) for seed in range(20, 100))])
def test_random_damage_is_found_or_touches_nothing_of_the_journal(tmp_path: Path, seed: int) -> None:
    """Spots of 1 to 4,000 bytes anywhere in the files. Whatever happens: what the bench goes on from is the true
    story up to some row, at least to the backup's, and nothing is written over.
    """
    chance = random.Random(seed)
    state = _cut_off(tmp_path)
    for _ in range(chance.randint(1, 3)):
        file = chance.choice([state / "record.db", state / "record.db-wal"])
        content = bytearray(file.read_bytes())
        start, length = chance.randrange(len(content)), chance.choice([1, 8, 400, 4000])
        content[start : start + length] = chance.randbytes(len(content[start : start + length]))
        file.write_bytes(content)
    as_found = _bytes(state)
    with _scribe(state) as scribe:
        standing, health = scribe.standing(), scribe.health()
        if health.rescue is None:
            assert standing == replayed(DAY)
            return
        assert health.rescue.end >= SAVED
        assert standing == replayed(DAY[: health.rescue.end])
        scribe.restore(AT)
    aside = next(state.glob("set-aside-*"))
    assert {
        name: (aside / name).read_bytes() for name in as_found if (aside / name).exists()
    }.items() <= as_found.items()
    assert verify(state / "record.db").ok


def _schema_spoilt(state: Path, which: int) -> None:
    """Half of the text of a table, an index or a trigger."""
    _into_one_file(state)
    record = state / "record.db"
    with closing(sqlite3.connect(record)) as db:
        texts = [sql.encode() for (sql,) in db.execute("SELECT sql FROM sqlite_master WHERE sql IS NOT NULL")]
    content, text = record.read_bytes(), texts[which]
    assert content.count(text) == 1
    record.write_bytes(content.replace(text, text[: len(text) // 2] + b"\xa6" * (len(text) - len(text) // 2)))


@pytest.mark.parametrize("which", [0, 8, 20, 34])
def test_a_schema_that_is_no_text_is_damage_like_any_other(tmp_path: Path, which: int) -> None:
    """SQLite cites the schema in its message, which Python's sqlite3 cannot decode: no error of its own comes then."""
    state = _cut_off(tmp_path)
    _schema_spoilt(state, which)
    record = state / "record.db"
    with closing(sqlite3.connect(record)) as db, pytest.raises(UnicodeDecodeError):
        db.execute("SELECT count(*) FROM sqlite_master")
    assert "damaged" in verify(record).words
    with pytest.raises(RecordDamaged):
        rows_at_a_glance(record)
    assert record_version(state) is None
    with pytest.raises(RecordDamaged, match=re.escape(str(record))):
        _shelf(state).make(AT, "test")
    with _scribe(state) as scribe:
        assert "damaged" in scribe.health().damage
        assert scribe.standing() == replayed(DAY)
        done = scribe.restore(AT)
    assert (done.rows, done.lost) == (len(DAY), 0)
    assert verify(record).ok


def test_damage_found_while_running_is_restored_with_the_rows_of_this_run(tmp_path: Path) -> None:
    with _scribe(tmp_path) as scribe:
        scribe.write(DAY[:SAVED])
        _shelf(tmp_path).make(AT, "test")
        scribe.rows_are_safe(SAVED)
        scribe.write(DAY[SAVED:])
        with (tmp_path / "record.db").open("r+b") as file:
            file.write(b"x" * 100)
        (tmp_path / "record.db-wal").unlink()
        scribe.damaged("The record is damaged. Found by the check.")
        with pytest.raises(RecordDamaged):
            scribe.write(DAY[-1:])
        done = scribe.restore(AT)
    assert (done.rows, done.lost) == (len(DAY), 0)
    with SqlLedger(tmp_path) as ledger:
        assert tuple(ledger.entries()) == DAY


def test_a_restoring_that_was_cut_short_can_be_begun_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The worst place: the old files are set aside, and the new one has not got its name yet."""
    state = _cut_off(tmp_path)
    _row_changed(state)
    real = Path.replace

    def power_goes(self: Path, target: Path) -> Path:
        if self.name == ".record.db.new":
            raise KeyboardInterrupt
        return real(self, target)

    with _scribe(state) as scribe:
        scribe.standing()
        monkeypatch.setattr(Path, "replace", power_goes)
        with pytest.raises(KeyboardInterrupt):
            scribe.restore(AT)
        monkeypatch.undo()
    (state / "record.db").unlink()
    with _scribe(state) as scribe:
        assert scribe.standing() == replayed(DAY)
        assert scribe.restore(AT).rows == len(DAY)


def test_a_record_of_a_newer_version_is_refused_and_not_called_damaged(tmp_path: Path) -> None:
    SqlLedger(tmp_path).close()
    db = sqlite3.connect(tmp_path / "record.db")
    db.execute("UPDATE alembic_version SET version_num = '9999'")
    db.commit()
    db.close()
    with pytest.raises(LedgerFault, match="newer version"):
        _scribe(tmp_path)
    assert verify(tmp_path / "record.db").ok


def test_a_folder_held_by_another_station_is_refused(tmp_path: Path) -> None:
    with _scribe(tmp_path), pytest.raises(LedgerFault, match="Another station"):
        _scribe(tmp_path)
