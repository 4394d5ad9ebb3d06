"""Ledger: the only writer of the record. What it has taken is on the disk before it says so."""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import Final, Self

from sqlalchemy import Connection

from station.core.effects import KeepTrace
from station.core.events import Entry
from station.core.fold import apply
from station.core.moment import Moment
from station.core.standing import Standing
from station.errors import LedgerFault
from station.keeping import make_folder
from station.store import ahead, checkpoint, evidence, journal
from station.store.backup.contents import RECORD
from station.store.chain import GENESIS, Row, entry_of
from station.store.engines import open_reader, open_writer
from station.store.faults import RecordDamaged, RecordReadOnly, told_as_faults
from station.store.lock import StationLock
from station.store.projection import project
from station.store.traces import keep
from station.store.verify import ChainBroken, cut_short, walked
from station.store.versions import bring_up_to_date, version_of
from station.store.witness import WITNESS_FILE, Seen, Witness
from station.texts import t

log = logging.getLogger("tarebell.record")

LOCK_FILE: Final = "station.lock"
WORTH_KEEPING: Final = 5000
"""Rows whose reading at a start is worth a checkpoint at once: half a second here, more on a slow board."""


class SqlLedger:
    """A `ports.Ledger` in the file `record.db` in `state_dir`. No other station can use the same folder meanwhile.

    The record's tables are made, or brought up to date, before the constructor returns. It also opens a record that
    can only be read: replay works then, and every write raises LedgerFault. Writes belong to one thread, the first
    that writes. `lock` is the folder's lock where the caller holds it already; `before_change` is called before an
    older record is brought up to date, for a backup.
    """

    def __init__(
        self, state_dir: Path, lock: StationLock | None = None, before_change: Callable[[], object] | None = None
    ) -> None:
        """Raises LedgerFault when the record cannot be opened, is none of ours, or another station has it.

        Raises RecordDamaged when it is gone or is not what it was.
        """
        self.place = state_dir / RECORD
        self._thread: int | None = None
        self._own_lock: StationLock | None = None
        self._first = ""
        with told_as_faults(state_dir):
            make_folder(state_dir)
            if lock is None:
                self._own_lock = StationLock(state_dir / LOCK_FILE)
        self._witness = Witness(state_dir / WITNESS_FILE)
        self._writer = open_writer(self.place)
        self._reader = open_reader(self.place)
        try:
            self._check_there()
            with told_as_faults(self.place):
                bring_up_to_date(self.place, self._writer, self._reader, before_change)
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
        if self._own_lock is not None:
            self._own_lock.release()

    def write(self, entries: Sequence[Entry], traces: Sequence[KeepTrace] = ()) -> list[Row]:
        """All of them or none, on disk before it returns; entries that the journal already ends with are not repeated.

        The new rows. Raises LedgerFault. Writing the same entries again after a fault is safe, whether or not they
        arrived.
        """
        self._check_thread()
        if not entries and not traces:
            return []
        with self._writing() as db:
            new = journal.append(db, entries[journal.already_written(db, entries) :])
            for row in new:
                project(db, row)
            if new:
                latest = {row.boot_id: entry_of(row).at for row in new}
                for at in latest.values():
                    evidence.note(db, at, new[-1])
            for trace in traces:
                keep(db, trace)
            if new and not self._first:
                self._first = _first_digest(db)
        if new:
            self._witness.note(Seen(self._first, new[-1].seq, new[-1].digest))
        return new

    def heartbeat(self, at: Moment) -> None:
        """Keep `at` as evidence that the station ran until then. Raises LedgerFault."""
        with self._writing() as db:
            evidence.note(db, at)

    def keep_standing(self, standing: Standing) -> None:
        """Keep the state that the journal folds to as it ends now, as a shortcut for the next start. LedgerFault."""
        with self._writing() as db:
            last = journal.tail(db)
            if last:
                checkpoint.keep(db, checkpoint.Checkpoint(last[0].seq, last[0].digest, standing))
        ahead.forget(self.place.parent)

    def last_seen(self) -> Moment | None:
        """The latest moment for which there is evidence; None for a new record. Raises LedgerFault."""
        with told_as_faults(self.place), self._reader.begin() as db:
            return evidence.last_seen(db)

    def end(self) -> tuple[int, str]:
        """Number and digest of the journal's last row. Raises LedgerFault."""
        with told_as_faults(self.place), self._reader.begin() as db:
            last = journal.tail(db)
        return (last[0].seq, last[0].digest) if last else (0, GENESIS)

    def entries(self) -> Iterator[Entry]:
        """The journal from its beginning, each row proved. Raises RecordDamaged or LedgerFault."""
        return self._proved((0, GENESIS))

    def standing(self, told: ahead.Told = lambda _: None) -> Standing:
        """The durable state: from the checkpoint on, or from the beginning. Raises RecordDamaged or LedgerFault.

        After much reading the state is kept as a checkpoint, where the record can be written. `told` is called now and
        then with the number of rows read so far.
        """
        known = None
        try:
            with told_as_faults(self.place), self._reader.begin() as db:
                kept, early = checkpoint.newest(db), ahead.found(self.place.parent, db)
                known = max((one for one in (kept, early) if one is not None), key=lambda one: one.seq, default=None)
        except LedgerFault as fault:
            log.warning("checkpoint not used why=%s", fault)  # the journal says the same, and tells what is wrong
        after, standing = ((0, GENESIS), Standing()) if known is None else ((known.seq, known.digest), known.standing)
        read = 0
        for entry in self._proved(after):
            standing, read = apply(standing, entry), read + 1
            if read % ahead.TOLD_EVERY == 0:
                told(read)
        if read >= WORTH_KEEPING:
            try:
                self.keep_standing(standing)
            except LedgerFault as fault:
                log.warning("no shortcut for the next start why=%s", fault)
        return standing

    def _proved(self, after: tuple[int, str]) -> Iterator[Entry]:
        (seq, digest), seen = after, self._witness.read()
        try:
            with told_as_faults(self.place):
                for row in walked(self._reader, after):
                    seq, digest = row.seq, row.digest
                    yield entry_of(row)
        except ChainBroken as broken:
            raise RecordDamaged(t("The record is damaged. {why}", why=broken)) from broken
        if seen is not None and (seen.seq > seq or (seen.seq == seq and seen.last != digest)):
            raise RecordDamaged(t("The record is damaged. {why}", why=cut_short(seq, seen)))

    def _check_there(self) -> None:
        gone = not self.place.is_file() or self.place.stat().st_size == 0
        log = self.place.with_name(self.place.name + "-wal")
        logged = log.is_file() and log.stat().st_size > 0
        # Beside an empty file the database would throw the log away, and with it perhaps the last cast.
        known = self._witness.read() is not None
        if not gone and known:
            with told_as_faults(self.place), self._reader.begin() as db:
                gone = version_of(db) is None
        if gone and (logged or known):
            raise RecordDamaged(t("{place} is gone or empty, though a record was kept there.", place=self.place))

    @contextmanager
    def _writing(self) -> Iterator[Connection]:
        self._check_thread()
        try:
            with told_as_faults(self.place), self._writer.begin() as db:
                yield db
        except RecordReadOnly:
            # A file that could not be opened for writing is opened for reading instead, and stays so for as long as
            # the connection lives: the next try begins with a new one.
            self._writer.dispose()
            raise

    def _check_thread(self) -> None:
        here = threading.get_ident()
        if self._thread is None:
            self._thread = here
        if self._thread != here:
            raise RuntimeError("only the thread that wrote first may write to the record")


def _first_digest(db: Connection) -> str:
    first = journal.rows_after(db, 0, 1)
    if not first or first[0].seq != 1:
        raise RecordDamaged(t("The record is damaged. Its first row is missing."))
    return first[0].digest
