"""The scribe: the thread that the record belongs to. A slow disk delays nobody, a bad one is tried again.

Whoever writes waits for the disk only so long; then he is told that it is slow, keeps his entries and hands them in
again later. That is safe: what has arrived meanwhile is not written twice. A damaged record is left alone until a
person has it restored; the entries wait in memory till then.
"""

from __future__ import annotations

import errno
import logging
import queue
import threading
from collections import deque
from collections.abc import Callable, Sequence
from concurrent.futures import Future
from concurrent.futures import TimeoutError as TooLong
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Final, Self, TypeVar

from station.core.effects import KeepTrace
from station.core.events import Entry
from station.core.fold import replayed
from station.core.moment import Moment
from station.core.standing import Standing
from station.errors import LedgerFault, SlowDisk
from station.keeping import make_folder
from station.store.backup.shelf import BackupShelf
from station.store.chain import GENESIS, Row, entry_of
from station.store.faults import RecordDamaged, RecordForeign, RecordHeld, told_as_faults
from station.store.ledger import LOCK_FILE, SqlLedger
from station.store.lock import StationLock
from station.store.rescue.plan import Rescue, plan_rescue
from station.store.rescue.restore import Restored, restore
from station.store.witness import WITNESS_FILE, Witness

log = logging.getLogger("tarebell.record")
Answer = TypeVar("Answer")

PATIENCE_S: Final = 0.5
"""How long a write may hold up the bench. Cards have pauses of tenths of a second in the best of health."""
_WRONG_PLACE: Final = frozenset(
    {errno.ENOTDIR, errno.EEXIST, errno.ENOENT, errno.EACCES, errno.EPERM, errno.EISDIR, errno.ELOOP}
)
LAST_S: Final = 5.0
RECENT_ROWS: Final = 5000
"""Rows of this run that are kept in memory, to be put into a restored record."""


@dataclass(frozen=True, slots=True)
class RecordHealth:
    """How the record fares: `damage` says what is wrong with it, `rescue` what restoring would give."""

    damage: str = ""
    rescue: Rescue | None = None
    slow: bool = False


class Scribe:
    """Implements `ports.Ledger` over the record in a state folder."""

    def __init__(
        self,
        state_dir: Path,
        shelf: BackupShelf,
        before_change: Callable[[], object],
        patience_s: float = PATIENCE_S,
        make: Callable[..., SqlLedger] = SqlLedger,
    ) -> None:
        """Raises LedgerFault when another station has the folder, or the record is not for this version."""
        self._state_dir, self._shelf, self._before_change = state_dir, shelf, before_change
        self._patience_s, self._make = patience_s, make
        self._jobs: queue.SimpleQueue[Callable[[], None] | None] = queue.SimpleQueue()
        self._pending: Future[object] | None = None
        self._recent: deque[Row] = deque(maxlen=RECENT_ROWS)
        self._ledger: SqlLedger | None = None
        self._fault: LedgerFault | None = None
        self._rescue: Rescue | None = None
        self._end = (0, GENESIS)
        self._lock = self._locked()
        self._thread = threading.Thread(target=self._work, name="record", daemon=True)
        self._thread.start()
        try:
            self._call(self._open, None)
        except BaseException:
            self.close()
            raise

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, _kind: type[BaseException] | None, _bug: BaseException | None, _at: TracebackType | None
    ) -> None:
        self.close()

    def health(self) -> RecordHealth:
        """How the record fares now. From any thread."""
        damage = str(self._fault) if isinstance(self._fault, RecordDamaged) else ""
        return RecordHealth(damage, self._rescue, self._busy())

    def close(self) -> None:
        """Finish what is begun, as far as the disk lets us, and let another station have the folder."""
        self._jobs.put(self._close)
        self._jobs.put(None)
        self._thread.join(LAST_S)
        if self._lock is not None:
            self._lock.release()

    def write(self, entries: Sequence[Entry], traces: Sequence[KeepTrace] = ()) -> None:
        """All of them or none, on disk when it returns. Raises LedgerFault; handing them in again is safe."""
        self._within_patience(lambda: self._write(tuple(entries), tuple(traces)))

    def heartbeat(self, at: Moment) -> None:
        """Keep `at` as evidence that the station ran until then. Raises LedgerFault."""
        self._within_patience(lambda: self._using(lambda ledger: ledger.heartbeat(at)))

    def keep_standing(self, standing: Standing) -> None:
        """A shortcut for the next start. Raises LedgerFault."""
        self._within_patience(lambda: self._using(lambda ledger: ledger.keep_standing(standing)))

    def standing(self) -> Standing:
        """What the journal folds to; of a damaged record, what a restored one would. Raises LedgerFault."""
        return self._call(self._standing, None)

    def last_seen(self) -> Moment | None:
        """The latest moment for which there is evidence. Raises LedgerFault."""
        return self._call(self._last_seen, None)

    def rows_are_safe(self, seq: int) -> None:
        """A backup holds the rows up to number `seq`: they need not be kept in memory."""
        self._jobs.put(lambda: self._forget_up_to(seq))

    def end_row(self) -> int:
        """Number of the last row that was written or read. From any thread."""
        return self._end[0]

    def damaged(self, words: str) -> None:
        """Somebody has found that the record is not as it was written."""
        self._call(lambda: self._cannot_use(RecordDamaged(words)), None)

    def restore(self, at: Moment) -> Restored:
        """Put the rescued record in the place of the damaged one. Raises LedgerFault; then nothing has changed."""
        return self._call(lambda: self._restore(at), None)

    # --- from here on everything runs on the scribe's own thread, but for the three that wait for it

    def _call(self, job: Callable[[], Answer], patience_s: float | None) -> Answer:
        if not self._thread.is_alive():
            # Nobody would ever answer. What it died of is told by its own thread, and must not be hidden by this.
            raise LedgerFault("What writes the record has stopped.", "The station starts afresh by itself.")
        answer: Future[Answer] = Future()

        def run() -> None:
            try:
                answer.set_result(job())
            except BaseException as why:  # whoever asked shall have it, be it a fault or a bug
                answer.set_exception(why)

        self._pending = answer  # type: ignore[assignment]  # only asked whether it is done
        self._jobs.put(run)
        return answer.result(patience_s)

    def _within_patience(self, job: Callable[[], object]) -> None:
        if self._busy():
            raise SlowDisk("The disk is slow.")
        try:
            self._call(job, self._patience_s)
        except TooLong:
            raise SlowDisk(f"The disk has not answered for {self._patience_s:g} s.") from None

    def _busy(self) -> bool:
        return self._pending is not None and not self._pending.done()

    def _work(self) -> None:
        while (job := self._jobs.get()) is not None:
            job()

    def _locked(self) -> StationLock | None:
        """The folder's lock; None where the disk does not even take its file: there nobody else writes either."""
        try:
            with told_as_faults(self._state_dir):
                make_folder(self._state_dir)
                return StationLock(self._state_dir / LOCK_FILE)
        except LedgerFault as fault:
            # A wrong path in the settings must be said; a full or spoiled card must not stop the bench.
            if not isinstance(fault.__cause__, OSError) or fault.__cause__.errno in _WRONG_PLACE:
                raise
            log.error("no lock why=%s", fault)
            return None

    def _open(self) -> None:
        try:
            self._ledger = self._make(self._state_dir, self._lock, self._before_change)
            self._end = self._ledger.end()
        except (RecordHeld, RecordForeign):
            raise  # nothing is known of what it holds, so nothing is begun
        except LedgerFault as fault:
            self._cannot_use(fault)

    def _open_ledger(self) -> SqlLedger:
        if isinstance(self._fault, RecordDamaged):
            raise self._fault
        if self._ledger is None:
            self._lock = self._lock or self._locked()
            ledger = self._make(self._state_dir, self._lock, self._before_change)
            if ledger.end() != self._end:
                ledger.close()
                self._cannot_use(RecordDamaged("The record has changed while it could not be used."))
                return self._open_ledger()
            self._ledger, self._fault, self._rescue = ledger, None, None
        return self._ledger

    def _using(self, job: Callable[[SqlLedger], Answer]) -> Answer:
        ledger = self._open_ledger()
        try:
            return job(ledger)
        except RecordDamaged as damage:
            self._cannot_use(damage)
            raise

    def _write(self, entries: tuple[Entry, ...], traces: tuple[KeepTrace, ...]) -> None:
        new = self._using(lambda ledger: ledger.write(entries, traces))
        self._recent.extend(new)
        if new:
            self._end = (new[-1].seq, new[-1].digest)

    def _standing(self) -> Standing:
        found = self._read(lambda ledger: ledger.standing())
        if found is not None:
            return found
        return Standing() if self._rescue is None else replayed(self._rescue.entries())

    def _read(self, job: Callable[[SqlLedger], Answer]) -> Answer | None:
        if self._ledger is None:
            return None
        try:
            return job(self._ledger)
        except LedgerFault as fault:  # a card that does not give what is on it is as bad as a damaged record
            self._cannot_use(fault if isinstance(fault, RecordDamaged) else RecordDamaged(str(fault)))
            return None

    def _last_seen(self) -> Moment | None:
        seen = self._read(lambda ledger: ledger.last_seen())
        if seen is not None:
            return seen
        last = self._rescue.last_row() if self._rescue is not None else None
        return None if last is None else entry_of(last).at

    def _cannot_use(self, fault: LedgerFault) -> None:
        log.error("record cannot be used why=%s", fault)
        seen = Witness(self._state_dir / WITNESS_FILE).read()
        known = max(self._end[0], 0 if seen is None else seen.seq)
        if self._ledger is not None:
            self._ledger.close()
            self._ledger = None
        self._rescue = plan_rescue(self._state_dir, self._shelf, tuple(self._recent), known)
        last = self._rescue.last_row()
        self._end = (0, GENESIS) if last is None else (last.seq, last.digest)
        self._fault = fault

    def _restore(self, at: Moment) -> Restored:
        if self._rescue is None:
            raise LedgerFault("The record is whole.", "There is nothing to restore.")
        done = restore(self._rescue, self._state_dir, at)
        self._ledger = self._make(self._state_dir, self._lock, self._before_change)
        self._fault, self._rescue, self._end = None, None, self._ledger.end()
        log.warning("record restored rows=%d lost=%d set_aside=%s", done.rows, done.lost, done.set_aside)
        return done

    def _forget_up_to(self, seq: int) -> None:
        while self._recent and self._recent[0].seq <= seq:
            self._recent.popleft()

    def _close(self) -> None:
        if self._ledger is not None:
            self._ledger.close()
            self._ledger = None
