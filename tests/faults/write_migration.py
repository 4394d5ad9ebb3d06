"""A writer to be watched: an older record is opened, brought up to date after a backup of it, and written on.

    python -m tests.faults.write_migration FOLDER WAY [PRAGMA ...]

`FOLDER/state` is made by `with_an_older_record`. Acknowledged is "N", the entries that are there, once the record is
of today and after each further entry. The way "unsynced" and pragmas are for the controls.
"""

from __future__ import annotations

import shutil
import sys
from contextlib import AbstractContextManager, nullcontext
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from station.core.moment import Moment
from station.store.backup.contents import RECORD, Belongings
from station.store.backup.shelf import BackupShelf
from station.store.ledger import SqlLedger
from tests.faults.overlay import laid_over, unsynced
from tests.faults.shim import acknowledge
from tests.store.older import made_older
from tests.store.stories import a_day

AT: Final = Moment(9000.0, "boot-9", datetime(2026, 11, 26, 2, 30, tzinfo=UTC), True)
CASTS: Final = 3
OLDER: Final = 30
"""Entries in the older record; some of them only in its log."""
OLD_VERSION: Final = "0001"


def shelf_in(folder: Path) -> BackupShelf:
    """The backups of the station."""
    return BackupShelf(Belongings(folder / "state"), folder / "state" / "backups", "0.1")


def with_an_older_record(folder: Path, entries: int = OLDER) -> None:
    """A state folder as a kill leaves it, with a record of version 0001."""
    working, state, story = folder.with_name(f"{folder.name}-working"), folder / "state", a_day(CASTS)
    with SqlLedger(working) as ledger:
        ledger.write(story[: entries // 2])
    with SqlLedger(working) as ledger:
        ledger.write(story[entries // 2 : entries])
        made_older(working / RECORD, OLD_VERSION)
        shutil.copytree(working, state, dirs_exist_ok=True)
    for gone in ("station.lock", f"{RECORD}-shm"):
        (state / gone).unlink()


def main(folder: Path, way: str, pragmas: list[str]) -> None:
    """Open the record, and write the next entries."""
    careless: AbstractContextManager[None] = unsynced() if way == "unsynced" else nullcontext()
    shelf = shelf_in(folder)
    with (
        careless,
        laid_over(pragmas),
        SqlLedger(folder / "state", before_change=lambda: shelf.make(AT, "before the change")) as ledger,
    ):
        acknowledge(str(OLDER))
        for count, entry in enumerate(a_day(CASTS)[OLDER:], OLDER + 1):
            ledger.write([entry])
            acknowledge(str(count))


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2], sys.argv[3:])
