"""A writer to be watched: casts, and between them backups, each copied to a second folder as to a stick.

    python -m tests.faults.write_backups FOLDER DAYS WAY

`FOLDER/state` is the station's, made by `with_a_shelf`; `FOLDER/stick` is where copies go. Acknowledged are
"entry N", and after each backup "shelf PLACE NAME ...", the backups that are there now. The careless ways are the
controls.
"""

from __future__ import annotations

import sys
from contextlib import AbstractContextManager, nullcontext
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Final

from station.core.moment import Moment
from station.store.backup.contents import Belongings
from station.store.backup.copies import copy_away
from station.store.backup.shelf import BackupShelf
from station.store.ledger import SqlLedger
from tests.faults.overlay import unsynced
from tests.faults.shim import acknowledge
from tests.store.stories import a_day

CASTS: Final = 5
BEFORE_DAYS: Final = 9
"""Days with a backup that lie before: the next one lets go of an old one."""
A_DAY: Final = 4
"""Entries between two backups."""
SHELF: Final = "state/backups"
STICK: Final = "stick/tarebell-backups"


def day(number: int) -> Moment:
    """When the backup of this day is made."""
    return Moment(9000.0 + number, "boot-9", datetime(2026, 11, 2, 2, 30, tzinfo=UTC) + timedelta(days=number), True)


def shelf_in(folder: Path, place: str = SHELF) -> BackupShelf:
    """The backups in a place below the folder."""
    return BackupShelf(Belongings(folder / "state"), folder / place, "0.1")


def with_a_shelf(folder: Path) -> None:
    """A state folder with a record and the backups of some days."""
    story = a_day(CASTS)
    with SqlLedger(folder / "state") as ledger:
        for number in range(BEFORE_DAYS):
            ledger.write(story[number * A_DAY : (number + 1) * A_DAY])
            shelf_in(folder).make(day(number), "daily")


def _let_go_first(shelf: BackupShelf) -> None:
    shelf.all()[-1].file.unlink()


def main(folder: Path, days: int, way: str) -> None:
    """Some more days."""
    careless: AbstractContextManager[None] = unsynced() if way == "unsynced" else nullcontext()
    story, shelf = a_day(CASTS), shelf_in(folder)
    with careless, SqlLedger(folder / "state") as ledger:
        for number in range(BEFORE_DAYS, BEFORE_DAYS + days):
            for count in range(number * A_DAY, (number + 1) * A_DAY):
                ledger.write([story[count]])
                acknowledge(f"entry {count + 1}")
            if way == "let go first":
                _let_go_first(shelf)
            backup = shelf.make(day(number), "daily")
            _acknowledge(shelf, SHELF)
            copy_away(backup, folder / STICK, folder / "state")
            _acknowledge(shelf_in(folder, STICK), STICK)


def _acknowledge(shelf: BackupShelf, place: str) -> None:
    acknowledge(" ".join(["shelf", place, *(one.file.name for one in shelf.all())]))


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), sys.argv[3])
