"""A writer to be watched: a damaged record is restored.

    python -m tests.faults.write_restore FOLDER WAY

`FOLDER/state` is made by `with_damage`. Acknowledged is "restored". Ways: "careful", as
`tarebell restore` does it; "by the page", as the station itself; "no second names", a disk on which a file has only
one; "noted late", when the note of the record's end was written just before; "unsynced", the control.
"""

from __future__ import annotations

import errno
import os
import shutil
import sqlite3
import sys
from collections.abc import Callable
from contextlib import AbstractContextManager, closing, nullcontext
from datetime import UTC, datetime
from pathlib import Path
from typing import Final
from unittest.mock import patch

from station.core.moment import Moment
from station.restoring import restored_on_request
from station.store.backup.contents import RECORD, Belongings
from station.store.backup.shelf import BackupShelf
from station.store.ledger import SqlLedger
from station.store.scribe import Scribe
from station.store.witness import WITNESS_FILE, Seen, Witness
from tests.faults.overlay import unsynced
from tests.faults.shim import acknowledge
from tests.store.disk import without_guards
from tests.store.stories import a_day

AT: Final = Moment(9000.0, "boot-9", datetime(2026, 11, 26, 2, 30, tzinfo=UTC), True)
DAY: Final = tuple(a_day(3))
SAVED: Final = len(DAY) // 2
LOG: Final = RECORD + "-wal"
SMALL: Final = "scale.json"


def shelf_in(folder: Path) -> BackupShelf:
    """The backups of the station."""
    return BackupShelf(Belongings(folder / "state"), folder / "state" / "backups", "0.1")


def with_damage(folder: Path, damage: str, way: str) -> None:
    """A state folder as a kill leaves it: half of the entries in the record and a backup, half in the log; damaged.

    A small file that the backup holds is gone.
    """
    working, state = folder.with_name(f"{folder.name}-working"), folder / "state"
    working.mkdir()
    (working / SMALL).write_text("{}")
    with SqlLedger(working) as ledger:
        ledger.write(DAY[:SAVED])
    noted = (working / WITNESS_FILE).read_bytes()
    BackupShelf(Belongings(working), working / "backups", "0.1").make(AT, "daily")
    with SqlLedger(working) as ledger:
        for entry in DAY[SAVED:]:
            ledger.write([entry])
        if damage == "row changed":
            _change_a_row(working)
        shutil.copytree(working, state, dirs_exist_ok=True)
    for gone in ("station.lock", f"{RECORD}-shm", *([] if way == "by the page" else [SMALL])):
        (state / gone).unlink()
    if way == "noted late":
        (state / WITNESS_FILE).write_bytes(noted)
    DAMAGES[damage](state)


def _change_a_row(state: Path) -> None:
    """In the log: without it the record would look whole, and be shorter."""
    with closing(sqlite3.connect(state / RECORD)) as db:
        without_guards(db)
        db.execute("UPDATE journal SET boot_s = boot_s + 1 WHERE seq = ?", (SAVED - 3,))
        db.commit()


def _log_spoilt(state: Path) -> None:
    """From the middle on; what comes after it in the log is lost, and only the note of the record's end tells."""
    with (state / LOG).open("r+b") as file:
        file.seek((state / LOG).stat().st_size // 2)
        file.write(b"x" * 400)


DAMAGES: Final[dict[str, Callable[[Path], object]]] = {
    "row changed": lambda state: None,
    "log spoilt": _log_spoilt,
    "record emptied": lambda state: (state / RECORD).write_bytes(b""),
}


def _refused(*_paths: object) -> None:
    raise OSError(errno.EPERM, "Operation not permitted")


WAYS: Final[dict[str, Callable[[], AbstractContextManager[object]]]] = {
    "careful": nullcontext,
    "by the page": nullcontext,
    "noted late": nullcontext,
    "no second names": lambda: patch.object(os, "link", _refused),
    "unsynced": unsynced,
}


def _note_the_end(state: Path) -> None:
    witness = Witness(state / WITNESS_FILE)
    earlier = witness.read()
    assert earlier is not None
    with SqlLedger(state) as ledger:
        seq, digest = ledger.end()
    assert seq > earlier.seq
    witness.note(Seen(earlier.first, seq, digest))


def main(folder: Path, way: str) -> None:
    """Restore."""
    if way == "noted late":
        _note_the_end(folder / "state")
    with WAYS[way]():
        if way == "by the page":
            with Scribe(folder / "state", shelf_in(folder), lambda: None, lambda: 0.0, patience_s=60) as scribe:
                scribe.standing()
                scribe.restore(AT)
                acknowledge("restored")
            return
        for words in restored_on_request(shelf_in(folder), None, False, AT):
            print(words)
    acknowledge("restored")


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2])
