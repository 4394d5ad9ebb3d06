"""A glance at the record: its end, its version, and how far it once came; what lies earlier only `verify` finds."""

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from station.errors import LedgerFault
from station.store.faults import RecordDamaged, RecordForeign
from station.store.glance import rows_at_a_glance
from station.store.ledger import SqlLedger
from station.store.verify import verify
from tests.store.disk import opened, without_guards
from tests.store.stories import a_day

DAY = a_day(2)


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("whole")
    with SqlLedger(folder) as ledger:
        ledger.write(DAY)
    with opened(folder / "record.db") as db:
        without_guards(db)
        db.execute("PRAGMA journal_mode = DELETE")
    return folder


@pytest.fixture
def record(whole: Path, tmp_path: Path) -> Path:
    shutil.copytree(whole, tmp_path / "state")
    return tmp_path / "state" / "record.db"


def changed(record: Path, sql: str) -> None:
    with closing(sqlite3.connect(record)) as db:
        db.execute(sql)
        db.commit()


def test_a_whole_record_says_how_many_rows_it_has(record):
    assert rows_at_a_glance(record) == len(DAY)
    with SqlLedger(record.parent / "new") as new:
        assert rows_at_a_glance(record.parent / "new" / "record.db") == 0
        new.write(a_day(1))
        assert rows_at_a_glance(record.parent / "new" / "record.db") == len(a_day(1))


def test_nothing_of_the_record_is_changed_by_it(record):
    before = {file.name: file.read_bytes() for file in record.parent.iterdir()}
    rows_at_a_glance(record)
    assert {file.name: file.read_bytes() for file in record.parent.iterdir()} == before


@pytest.mark.parametrize("column", ["payload = 'x'", "boot_s = boot_s + 1", "previous = 'x'", "payload = x'00ff'"])
def test_a_change_near_the_end_is_found(record, column):
    changed(record, f"UPDATE journal SET {column} WHERE seq = {len(DAY) - 3}")
    with pytest.raises(RecordDamaged, match=f"Row {len(DAY) - 3}|Row {len(DAY) - 2}"):
        rows_at_a_glance(record)


def test_a_change_long_ago_is_left_to_verify(record):
    changed(record, "UPDATE journal SET payload = 'x' WHERE seq = 2")
    assert rows_at_a_glance(record) == len(DAY)
    assert not verify(record).ok


def test_an_end_that_went_missing_is_found_by_the_witness(record):
    changed(record, f"DELETE FROM journal WHERE seq > {len(DAY) - 2}")
    with pytest.raises(RecordDamaged, match="is missing"):
        rows_at_a_glance(record)


def test_what_is_no_record_of_ours_is_said(record):
    changed(record, "UPDATE alembic_version SET version_num = '9999'")
    with pytest.raises(RecordForeign, match="newer version"):
        rows_at_a_glance(record)
    changed(record, "DROP TABLE alembic_version")
    with pytest.raises(RecordForeign, match="no record"):
        rows_at_a_glance(record)
    record.write_bytes(b"no database at all" * 1000)
    with pytest.raises(LedgerFault):
        rows_at_a_glance(record)
