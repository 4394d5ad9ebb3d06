"""A check by a process of its own says what a check here says; without a process the record is checked all the same."""

from __future__ import annotations

import os
import sqlite3
import threading
from contextlib import closing
from pathlib import Path

import pytest

from station.errors import LedgerFault
from station.languages import begin_to_speak
from station.store import walker as walker_module
from station.store.backup.contents import Belongings
from station.store.backup.shelf import BackupShelf
from station.store.ledger import SqlLedger
from station.store.verify import Verdict, verify
from station.store.walker import Walker
from tests.store.backup.test_backups import AT
from tests.store.disk import opened, without_guards
from tests.store.stories import a_day


@pytest.fixture
def record(tmp_path: Path) -> Path:
    with SqlLedger(tmp_path / "state") as ledger:
        ledger.write(a_day())
    return tmp_path / "state" / "record.db"


def spoilt(record: Path) -> None:
    with opened(record) as db:
        without_guards(db)
        db.execute("UPDATE journal SET wall = '2020-01-01T00:00:00+00:00' WHERE seq = 5")


def as_program(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, script: str) -> None:
    """In the place of Python stands this program of the shell."""
    program = tmp_path / "program"
    program.write_text(f"#!/bin/sh\n{script}\n")
    program.chmod(0o755)
    monkeypatch.setattr(walker_module.sys, "executable", str(program))


def test_the_process_says_of_a_whole_and_of_a_damaged_record_what_is_said_here(record: Path) -> None:
    far = Walker(short_bytes=0)
    assert far(record) == verify(record)
    assert far(record).ok
    begin_to_speak("de")
    try:
        spoilt(record)
        here = verify(record)
        assert far(record) == here
    finally:
        begin_to_speak("en")
    assert here.seq == 5
    assert "Zeile 5" in here.words


def test_a_file_that_is_no_record_is_a_fault_from_there_too(tmp_path: Path) -> None:
    record = tmp_path / "record.db"
    with closing(sqlite3.connect(record)) as db, db:
        db.execute("CREATE TABLE something_else (name TEXT)")
    with pytest.raises(LedgerFault) as here:
        verify(record)
    with pytest.raises(LedgerFault) as there:
        Walker(short_bytes=0)(record)
    assert there.value.sentence() == here.value.sentence()


def test_a_short_record_starts_no_process(record: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    as_program(tmp_path, monkeypatch, f"touch {tmp_path}/started")
    assert Walker()(record).ok
    assert not (tmp_path / "started").exists()


@pytest.mark.parametrize("script", ["exit 1", "echo nonsense", "echo '{\"ok\": true}'"])
def test_without_an_answer_it_is_checked_here(
    record: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, script: str
) -> None:
    spoilt(record)
    as_program(tmp_path, monkeypatch, script)
    assert Walker(short_bytes=0)(record) == verify(record)


def test_without_a_process_it_is_checked_here(record: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(walker_module.sys, "executable", "/nowhere/python")
    assert Walker(short_bytes=0)(record).ok


def test_the_end_of_the_station_waits_for_no_check(
    record: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun = tmp_path / "begun"
    os.mkfifo(begun)
    as_program(tmp_path, monkeypatch, f"echo begun > {begun}\nexec sleep 600")
    walker, faults = Walker(short_bytes=0), []

    def walks() -> None:
        try:
            walker(record)
        except LedgerFault as fault:
            faults.append(fault)

    waiting = threading.Thread(target=walks)
    waiting.start()
    assert begun.read_text() == "begun\n"
    walker.end()
    waiting.join(20)
    assert not waiting.is_alive()
    assert len(faults) == 1
    with pytest.raises(LedgerFault):
        walker(record)


def test_a_backup_of_which_the_walk_finds_the_record_damaged_is_none(tmp_path: Path, record: Path) -> None:
    walked: list[Path] = []

    def walk(place: Path) -> Verdict:
        walked.append(place)
        return Verdict(False, 0, 1, "It was found damaged.")

    shelf = BackupShelf(Belongings(record.parent), tmp_path / "backups", "test", walk)
    with pytest.raises(LedgerFault, match="It was found damaged"):
        shelf.make(AT, "test")
    assert len(walked) == 1
    assert walked[0] != record, "the copy is walked, not the record"
    assert not list((tmp_path / "backups").glob("*.zip"))
