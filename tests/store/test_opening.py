"""Opening the record: new, old, foreign, damaged, locked, unwritable. Always a sentence, never a traceback."""

from __future__ import annotations

import errno
import os
import sqlite3
from pathlib import Path

import pytest
from sqlalchemy import inspect

from station.errors import LedgerFault
from station.store.archive import Archive
from station.store.engines import open_reader, open_writer
from station.store.faults import fault_for
from station.store.ledger import SqlLedger
from station.store.schema import CASTS_TEXT, VERSION, metadata
from station.store.verify import verify
from station.store.versions import bring_up_to_date, version_of
from tests.store.disk import opened
from tests.store.stories import a_day


def test_a_new_record_gets_the_tables_that_the_code_speaks_of(tmp_path: Path) -> None:
    with SqlLedger(tmp_path / "deep" / "state") as ledger:
        engine = open_reader(ledger.place)
        with engine.begin() as db:
            assert version_of(db) == VERSION
            found = inspect(db)
            for table in metadata.sorted_tables:
                columns = {column["name"]: column for column in found.get_columns(table.name)}
                assert list(columns) == [column.name for column in table.columns], table.name
                for column in table.columns:
                    same = columns[column.name]
                    assert str(same["type"]) == str(column.type.compile(db.dialect)), column
                    assert same["nullable"] == column.nullable, column
                assert found.get_pk_constraint(table.name)["constrained_columns"] == list(
                    table.primary_key.columns.keys()
                )
                indexes = {index["name"]: index["column_names"] for index in found.get_indexes(table.name)}
                assert indexes == {index.name: index.columns.keys() for index in table.indexes}, table.name
                keys = {tuple(key["constrained_columns"]) for key in found.get_foreign_keys(table.name)}
                assert keys == {tuple(key.column_keys) for key in table.foreign_key_constraints}, table.name


def test_the_tables_of_the_code_and_of_the_migrations_do_not_drift(tmp_path: Path) -> None:
    from alembic.autogenerate import compare_metadata
    from alembic.migration import MigrationContext

    with SqlLedger(tmp_path) as ledger, open_reader(ledger.place).begin() as db:

        def ours(name: str | None, *_: object) -> bool:
            return not (name or "").startswith(CASTS_TEXT)  # SQLite keeps its index of letters in tables of its own

        context = MigrationContext.configure(db, opts={"include_name": ours})
        assert compare_metadata(context, metadata) == []


def test_a_record_of_this_version_is_opened_without_a_migration(tmp_path: Path) -> None:
    place = tmp_path / "record.db"
    assert bring_up_to_date(place, open_writer(place), open_reader(place))
    before = place.read_bytes()
    assert not bring_up_to_date(place, open_writer(place), open_reader(place))
    assert place.read_bytes() == before


def test_the_writer_commits_durably(tmp_path: Path) -> None:
    place = tmp_path / "record.db"
    with open_writer(place).begin() as db:
        pragmas = ("journal_mode", "synchronous", "foreign_keys")
        found = [db.exec_driver_sql(f"PRAGMA {name}").scalar() for name in pragmas]
    assert found == ["wal", 2, 1]  # 2 is FULL (SQLite documentation, pragma synchronous)


def test_a_record_of_a_newer_version_is_left_alone(tmp_path: Path) -> None:
    SqlLedger(tmp_path).close()
    with opened(tmp_path / "record.db") as db:
        db.execute("UPDATE alembic_version SET version_num = '0999'")
    before = (tmp_path / "record.db").read_bytes()
    with pytest.raises(LedgerFault, match="newer version of the station") as fault:
        SqlLedger(tmp_path)
    assert "record version 0999" in fault.value.sentence()
    assert "Nothing was changed" in fault.value.sentence()
    assert (tmp_path / "record.db").read_bytes() == before


def test_somebody_elses_database_is_left_alone(tmp_path: Path) -> None:
    with opened(tmp_path / "record.db") as db:
        db.execute("CREATE TABLE recipes (title TEXT)")
    with pytest.raises(LedgerFault, match="not a record of this station"):
        SqlLedger(tmp_path)
    with opened(tmp_path / "record.db") as db:
        assert db.execute("SELECT name FROM sqlite_master").fetchall() == [("recipes",)]


def test_a_file_that_is_no_database_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "record.db").write_bytes(b"shopping list: wax, cups, gloves\n" * 100)
    with pytest.raises(LedgerFault, match=r"record\.db is not a database"):
        SqlLedger(tmp_path)
    assert (tmp_path / "record.db").read_bytes().startswith(b"shopping list")


def test_an_empty_file_becomes_a_record(tmp_path: Path) -> None:
    (tmp_path / "record.db").touch()
    with SqlLedger(tmp_path) as ledger:
        assert list(ledger.entries()) == []


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "a-file").touch()
    with pytest.raises(LedgerFault, match="a part of its path is a file"):
        SqlLedger(tmp_path / "a-file" / "state")
    with pytest.raises(LedgerFault, match="a file of that name is in the way"):
        SqlLedger(tmp_path / "a-file")


def test_a_file_that_cannot_be_opened_is_told(tmp_path: Path) -> None:
    (tmp_path / "record.db").mkdir()
    with pytest.raises(LedgerFault, match=r"record\.db cannot be opened"):
        SqlLedger(tmp_path)


def test_a_second_station_is_told_and_may_come_when_the_first_has_gone(tmp_path: Path) -> None:
    with SqlLedger(tmp_path), pytest.raises(LedgerFault, match="Another station already runs on") as fault:
        SqlLedger(tmp_path)
    assert "state folder of its own" in fault.value.sentence()
    SqlLedger(tmp_path).close()


def test_a_failed_opening_does_not_keep_the_lock(tmp_path: Path) -> None:
    (tmp_path / "record.db").write_bytes(b"x" * 4096)
    for _ in range(2):
        with pytest.raises(LedgerFault, match="not a database"):
            SqlLedger(tmp_path)


def test_a_record_held_by_another_program_is_told_and_taken_up_later(tmp_path: Path) -> None:
    day = a_day(1)
    with SqlLedger(tmp_path) as ledger:
        with opened(tmp_path / "record.db") as other:
            other.execute("BEGIN IMMEDIATE")
            with pytest.raises(LedgerFault, match="held by another program"):
                ledger.write(day)
            other.execute("ROLLBACK")
        ledger.write(day)
        assert tuple(ledger.entries()) == day


def _unmakeable(path: Path) -> None:
    """Nobody, not even root, can open or make this file: it is a link to itself."""
    path.symlink_to(path.name)


def test_a_record_without_its_log_index_is_still_read_whole(tmp_path: Path) -> None:
    """A card that can only be read: the index of the write-ahead log cannot be made."""
    day = a_day(1)
    state, card = tmp_path / "state", tmp_path / "card"
    card.mkdir()
    with SqlLedger(state) as ledger:
        ledger.write(day)
        for name in ("record.db", "record.db-wal"):  # as they lie at a power cut, the rows still in the log
            (card / name).write_bytes((state / name).read_bytes())
    assert (card / "record.db-wal").stat().st_size > 0
    _unmakeable(card / "record.db-shm")
    before = {path: path.read_bytes() for path in card.iterdir() if path.is_file()}
    with SqlLedger(card) as ledger, Archive(ledger.place) as archive:
        assert tuple(ledger.entries()) == day
        assert archive.count() == 1
        assert verify(ledger.place).ok
        with pytest.raises(LedgerFault):
            ledger.heartbeat(day[-1].at)
        with pytest.raises(Exception, match="readonly"), archive._engine.begin() as db:
            db.exec_driver_sql("DELETE FROM casts")  # into the copy that is read: it would be lost unnoticed
    assert {path: path.read_bytes() for path in before} == before


def test_a_record_without_a_log_is_read_where_nothing_can_be_made(tmp_path: Path) -> None:
    day = a_day(1)
    with SqlLedger(tmp_path) as ledger:
        ledger.write(day)
    (tmp_path / "record.db-wal").unlink(missing_ok=True)
    (tmp_path / "record.db-shm").unlink(missing_ok=True)
    _unmakeable(tmp_path / "record.db-shm")
    with SqlLedger(tmp_path) as ledger:
        assert tuple(ledger.entries()) == day


def test_reading_a_record_that_is_not_there_is_told(tmp_path: Path) -> None:
    with Archive(tmp_path / "record.db") as archive, pytest.raises(LedgerFault, match="cannot be opened"):
        archive.casts()
    assert not (tmp_path / "record.db").exists()


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "disk is full"),
        (errno.EROFS, "can only be read"),
        (errno.EACCES, "may not be used by this user"),
        (errno.EIO, "does not take or give"),
        (errno.EMFILE, "cannot be used"),
    ],
)
def test_troubles_of_the_disk_are_told_in_words(number: int, words: str) -> None:
    sentence = fault_for(OSError(number, os.strerror(number)), "/var/lib/x/record.db").sentence()
    assert words in sentence
    assert "/var/lib/x/record.db" in sentence
    assert sentence.endswith(".")


def test_an_error_that_nobody_foresaw_is_told_with_its_own_words() -> None:
    assert "page size is odd" in fault_for(sqlite3.OperationalError("page size is odd"), "here").sentence()
