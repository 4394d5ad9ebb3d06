"""An older record is brought up to date in place, after a backup of it as it was, and loses nothing."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from station.core.fold import replayed
from station.core.moment import Moment
from station.errors import LedgerFault
from station.records import Asked
from station.store.archive import Archive
from station.store.backup.contents import Belongings
from station.store.backup.packing import check, unpacked
from station.store.backup.shelf import BackupShelf
from station.store.ledger import SqlLedger
from station.store.rescue.plan import plan_rescue
from station.store.rescue.restore import restore
from station.store.schema import VERSION
from tests.store.older import made_older
from tests.store.stories import a_day

AT = Moment(9000.0, "boot-9", datetime(2026, 11, 26, 2, 30, tzinfo=UTC), True)
DAY = tuple(a_day(2))


def _version(record: Path) -> str:
    with closing(sqlite3.connect(record)) as db:
        return str(db.execute("SELECT version_num FROM alembic_version").fetchone()[0])


@pytest.fixture
def old(tmp_path: Path) -> Path:
    """A state folder with a record of version 0001."""
    with SqlLedger(tmp_path) as ledger:
        ledger.write(DAY)
    made_older(tmp_path / "record.db", "0001")
    return tmp_path


def _shelf(state: Path) -> BackupShelf:
    return BackupShelf(Belongings(state), state / "backups", "0.1")


def test_a_backup_of_the_old_record_is_made_before_it_changes(old: Path) -> None:
    shelf = _shelf(old)
    with SqlLedger(old, before_change=lambda: shelf.make(AT, "before the change")) as ledger:
        assert tuple(ledger.entries()) == DAY
        ledger.keep_standing(replayed(DAY[:1]))
    assert _version(old / "record.db") == VERSION
    (backup,) = shelf.all()
    assert check(backup.file).rows == len(DAY)
    with unpacked(backup.file) as (room, _):
        assert _version(room / "record.db") == "0001"


def test_without_that_backup_nothing_is_changed(old: Path) -> None:
    def full() -> None:
        raise LedgerFault("The disk is full.")

    with pytest.raises(LedgerFault, match="full"):
        SqlLedger(old, before_change=full)
    assert _version(old / "record.db") == "0001"


def test_a_record_of_today_needs_no_backup_to_be_opened(tmp_path: Path) -> None:
    SqlLedger(tmp_path).close()
    called: list[int] = []
    SqlLedger(tmp_path, before_change=lambda: called.append(1)).close()
    assert called == []


def test_an_old_backup_is_restored_as_a_record_of_today(old: Path, tmp_path: Path) -> None:
    backup = _shelf(old).make(AT, "old")
    state = tmp_path / "another"
    state.mkdir()
    done = restore(plan_rescue(state, _shelf(state), base=backup), state, AT)
    assert (done.rows, done.lost) == (len(DAY), 0)
    assert _version(state / "record.db") == VERSION
    with SqlLedger(state) as ledger:
        assert tuple(ledger.entries()) == DAY


def test_casts_of_an_old_record_are_found_like_new_ones(old: Path) -> None:
    new = old / "new"
    with SqlLedger(new) as ledger:
        ledger.write(DAY)
    for folder in (old, new):
        with SqlLedger(folder), Archive(folder / "record.db") as archive:
            begun = archive.casts()[0].begun.wall
            for search in ("kayak", "a-0417", "corner"):
                assert [line.number for line in archive.casts(search=search)] == [2, 1], (folder, search)
            assert [line.number for line in archive.page(Asked(since=begun)).lines] == [2]
            assert [line.number for line in archive.page(Asked(until=begun, mold="seat-pad")).lines] == [1]
