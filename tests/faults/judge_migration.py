"""The judge of what a power cut left of a record that was being brought up to date."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from pathlib import Path

from station.errors import StationError
from station.store.backup.contents import RECORD
from station.store.backup.packing import unpacked
from station.store.ledger import SqlLedger
from station.store.schema import VERSION
from tests.faults.judge_backups import BackupContents
from tests.faults.judges import RecordJudge
from tests.faults.survey import Finding, Outcome
from tests.faults.write_migration import AT, CASTS, OLD_VERSION, OLDER, shelf_in
from tests.store.disk import opened
from tests.store.stories import a_day


class MigrationJudge:
    """After a cut in `write_migration`: a record that is of today has a good backup of itself as it was; the next start
    ends the way to today; every entry is there, and work goes on.
    """

    def __init__(self, older: int = OLDER) -> None:
        self._older = older
        self._record = RecordJudge(CASTS)
        self._contents = BackupContents(a_day(CASTS))

    def __call__(self, folder: Path, acknowledged: Sequence[str]) -> Finding:
        shelf = shelf_in(folder)
        for file in sorted(shelf.folder.glob("[!.]*.zip")):
            if wrong := self._contents.wrong(file):
                return Finding(Outcome.DAMAGED, wrong)
        try:
            version = _version(folder / "state" / RECORD)
            if version not in (OLD_VERSION, VERSION):
                return Finding(Outcome.DAMAGED, f"the record is of version {version}")
            if version == VERSION and not any(self._as_it_was(one.file) for one in shelf.all()):
                return Finding(Outcome.LOST, "the record was changed, and there is no backup of it as it was")
            SqlLedger(folder / "state", before_change=lambda: shelf.make(AT, "before the change")).close()
            if (version := _version(folder / "state" / RECORD)) != VERSION:
                return Finding(Outcome.DAMAGED, f"after the next start the record is of version {version}")
        except (StationError, sqlite3.Error) as fault:
            return Finding(Outcome.DAMAGED, str(fault))
        return self._record(folder, acknowledged or [str(self._older)])

    def _as_it_was(self, file: Path) -> bool:
        with unpacked(file) as (room, label):
            return label.rows == self._older and _version(room / RECORD) == OLD_VERSION


def _version(record: Path) -> str:
    with opened(record) as db:
        return str(db.execute("SELECT version_num FROM alembic_version").fetchone()[0])
