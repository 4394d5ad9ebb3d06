"""What is told of the disk, the record, its backups, photos and meshes is said in the station's language.

Processes that open a stranger's file are others than the station: they are told the language and speak it.
"""

from __future__ import annotations

import errno
import io
import sqlite3
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner

from station.cli import main
from station.core.moment import Moment
from station.errors import LedgerFault, Refused, StationError
from station.languages import begin_to_speak
from station.mesh.kinds import judged as mesh_judged
from station.photos.kinds import judged as photo_judged
from station.photos.taking import take
from station.starts import safe_mode
from station.store.backup.due import none_for_a_week, nothing_left_the_card
from station.store.backup.packing import check
from station.store.faults import fault_for
from station.store.ledger import SqlLedger
from station.store.photos import PhotosFound
from station.store.traces import TracesFound
from station.store.verify import verify
from tests.mesh.asking import refusal
from tests.mesh.bodies import box, obj
from tests.photos.test_harmful import moving
from tests.store.disk import opened, without_guards
from tests.store.stories import a_day
from tests.words.speaking import BEGIN, Marked, spoken
from tests.words.unsaid import unsaid

NOW = Moment(100.0, "boot", datetime(2026, 11, 25, 2, 30, tzinfo=UTC), True)
LONG_AGO = NOW.wall - timedelta(days=20)
SETTINGS = 'language = "de"\nstate_dir = "."\n[scale]\nport = "/dev/ttyUSB0"\nfamily = "status-commas"\n'


@pytest.fixture(autouse=True)
def _english_again():
    yield
    begin_to_speak("en")


def sqlite_error(name: str) -> sqlite3.Error:
    error = sqlite3.OperationalError("no matter")
    error.sqlite_errorname = name
    return error


TROUBLES = [
    *map(sqlite_error, ("SQLITE_FULL", "SQLITE_READONLY", "SQLITE_CANTOPEN", "SQLITE_NOTADB", "SQLITE_BUSY")),
    *map(sqlite_error, ("SQLITE_LOCKED", "SQLITE_CORRUPT", "SQLITE_IOERR_WRITE", "SQLITE_PERM", "SQLITE_MISUSE")),
    sqlite3.OperationalError("Could not decode to UTF-8 column 'payload'"),
    *(OSError(number, "no matter") for number in (errno.ENOSPC, errno.EACCES, errno.ENOTDIR, errno.EEXIST)),
    OSError(errno.ENOENT, "no matter"),
]


@pytest.mark.parametrize("trouble", TROUBLES, ids=repr)
def test_troubles_of_the_disk_are_said_with_what_to_do(trouble):
    with spoken(Marked()):
        told = fault_for(trouble, "/state/record.db").sentence()
    assert unsaid(told, []) == []
    assert told.startswith(BEGIN)


def test_damage_and_bad_backups_are_said(tmp_path: Path):
    with SqlLedger(tmp_path) as ledger:
        ledger.write(a_day(1))
    with opened(tmp_path / "record.db") as db:
        without_guards(db)
        db.execute("UPDATE journal SET payload = payload || ' ' WHERE seq = 3")
    (tmp_path / "none.zip").write_bytes(b"no zip")
    with spoken(Marked()):
        told = [verify(tmp_path / "record.db").words, PhotosFound(0, (1, 2)).words(), TracesFound(0, 2, (1,)).words()]
        told += [nothing_left_the_card(left, LONG_AGO, NOW) for left in (None, LONG_AGO)]
        told += [none_for_a_week(None, 4, LONG_AGO, NOW)]
        told += [mode.words.said() for mode in (safe_mode(5), safe_mode(0, asked_for=True)) if mode is not None]
        with pytest.raises(LedgerFault) as bad:
            check(tmp_path / "none.zip")
        told.append(bad.value.sentence())
    assert len(told) == 9
    assert {words: unsaid(words, ["none.zip"]) for words in told if not words or unsaid(words, ["none.zip"])} == {}


HEADS = [
    *(b"", b"GIF8", b"BM", b"II*\0", b"%PDF", b"PK\x03\x04", b"\x7fELF", b"<svg", b"solid", b"\0" * 64),
    *(b"\0\0\0\x18ftypheic", b"\x89PNG", b"\x1f\x8b", b"7z\xbc\xaf", b"ISO-10303-21;"),
]


@pytest.mark.parametrize("head", HEADS)
def test_files_of_other_kinds_are_refused_in_words_that_are_said(head):
    judging = [lambda: photo_judged(head, len(head)), lambda: photo_judged(head, 10**9)]
    judging += [lambda: mesh_judged(head, len(head), "part.stl"), lambda: mesh_judged(head, 10**9, "part.stl")]
    told = []
    with spoken(Marked()):
        for judge in judging:
            try:
                judge()
            except StationError as refusal:
                told.append(refusal.sentence())
    assert len(told) >= 3
    assert [unsaid(words, []) for words in told if unsaid(words, [])] == []


def test_the_processes_that_open_photos_and_meshes_speak_the_stations_language():
    begin_to_speak("de")
    with pytest.raises(Refused, match="Es bewegt sich"):
        take(io.BytesIO(moving("PNG")))
    assert refusal(obj(*box(10, 10, 0)), "part.obj") == (
        "Das Netz ist flach: es hat keine Dicke entlang z. Dem Teil eine Dicke geben."
    )


def test_the_commands_of_the_record_speak_the_language_of_the_settings(tmp_path: Path):
    (tmp_path / "station.toml").write_text(SETTINGS, "utf-8")

    def said(*words: str) -> str:
        return CliRunner().invoke(main, [*words, "--config", str(tmp_path / "station.toml")]).output

    assert said("verify") == (
        f"In {tmp_path} ist keine Aufzeichnung. Lief die Station dort? `--state` nennt einen anderen Ordner.\n"
    )
    with SqlLedger(tmp_path) as ledger:
        ledger.write(a_day(1))
    rows = len(a_day(1))
    assert said("verify") == f"Alle {rows} Zeilen sind heil und in der richtigen Folge.\n"
    assert said("idle") == "Am Platz ist nichts, und keine Uhr läuft.\n"
    assert said("backup").endswith(f".zip: {rows} Zeilen, zurückgelesen und heil.\n")
    assert said("backup", "--list").endswith(f"{rows} Zeilen  an der Befehlszeile verlangt\n")
    assert said("restore") == f"Die Aufzeichnung ist heil: {rows} Zeilen. Es gibt nichts wiederherzustellen.\n"
