"""Ledger: the only writer of the record. What it has taken is on the disk before it says so."""

from __future__ import annotations

import threading
from collections.abc import Iterator, Sequence
from pathlib import Path
from types import TracebackType
from typing import Final, Self

from sqlalchemy import Connection, delete, insert

from station.core.effects import KeepTrace
from station.core.events import Entry
from station.core.moment import Moment
from station.store import evidence, journal
from station.store.chain import entry_of
from station.store.engines import open_reader, open_writer
from station.store.faults import told_as_faults
from station.store.lock import StationLock
from station.store.projection import project
from station.store.schema import traces as kept
from station.store.trace_codec import pack
from station.store.versions import bring_up_to_date

RECORD_FILE: Final = "record.db"
LOCK_FILE: Final = "station.lock"


class SqlLedger:
    """A `ports.Ledger` in a database. While it is open no other station can use the same state folder.

    `database` is a URL, or None for the file `record.db` in `state_dir`. The record's tables are made, or
    brought up to date, before the constructor returns. It also opens a record that can only be read: replay
    works then, and every write raises LedgerFault. Writes belong to one thread, the first that writes.
    """

    def __init__(self, state_dir: Path, database: str | None = None) -> None:
        """Raises LedgerFault when the record cannot be opened, is none of ours, or another station has it."""
        self.place: Path | str = database or state_dir / RECORD_FILE
        self._thread: int | None = None
        with told_as_faults(state_dir):
            state_dir.mkdir(parents=True, exist_ok=True)
            self._lock = StationLock(state_dir / LOCK_FILE)
        self._writer = open_writer(self.place)
        self._reader = open_reader(self.place)
        try:
            with told_as_faults(self.place):
                bring_up_to_date(self.place, self._writer, self._reader)
        except BaseException:
            self.close()
            raise

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, _kind: type[BaseException] | None, _bug: BaseException | None, _at: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Close the record and let another station have it; twice is no harm."""
        self._writer.dispose()
        self._reader.dispose()
        self._lock.release()

    def write(self, entries: Sequence[Entry], traces: Sequence[KeepTrace] = ()) -> None:
        """All of them or none, on disk before it returns; entries that the journal already ends with are not repeated.

        Raises LedgerFault. Writing the same entries again after a fault is safe, whether or not they arrived.
        """
        self._check_thread()
        if not entries and not traces:
            return
        with told_as_faults(self.place), self._writer.begin() as db:
            new = journal.append(db, entries[journal.already_written(db, entries) :])
            for row in new:
                project(db, row)
            if new:
                latest = {row.boot_id: entry_of(row).at for row in new}
                for at in latest.values():
                    evidence.note(db, at, new[-1])
            for trace in traces:
                _keep(db, trace)

    def heartbeat(self, at: Moment) -> None:
        """Keep `at` as evidence that the station ran until then. Raises LedgerFault."""
        self._check_thread()
        with told_as_faults(self.place), self._writer.begin() as db:
            evidence.note(db, at)

    def last_seen(self) -> Moment | None:
        """The latest moment for which there is evidence; None for a new record. Raises LedgerFault."""
        with told_as_faults(self.place), self._reader.begin() as db:
            return evidence.last_seen(db)

    def entries(self) -> Iterator[Entry]:
        """The journal from its beginning. Raises LedgerFault when it cannot be read."""
        rows = journal.all_rows(self._reader)
        while True:
            with told_as_faults(self.place):
                row = next(rows, None)
            if row is None:
                return
            yield entry_of(row)

    def _check_thread(self) -> None:
        here = threading.get_ident()
        if self._thread is None:
            self._thread = here
        if self._thread != here:
            raise RuntimeError("only the thread that wrote first may write to the record")


def _keep(db: Connection, trace: KeepTrace) -> None:
    """A step that was weighed again keeps its latest trace."""
    db.execute(delete(kept).where(kept.c.cast_number == trace.number, kept.c.step == trace.step))
    db.execute(insert(kept).values(cast_number=trace.number, step=trace.step, points=pack(trace.points)))
