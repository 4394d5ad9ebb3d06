"""The scribe: the owner of the record. A slow disk delays nobody, a bad one is tried again.

Who writes waits only so long, is told that the disk is slow, and hands the entries in again later: what has arrived
is not written twice. A damaged record is left alone till a person has it restored; entries wait in memory meanwhile.
"""

from __future__ import annotations

import logging
from collections import deque
from collections.abc import Callable, Sequence
from concurrent.futures import Future
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Final, Self

from station.core.effects import KeepTrace
from station.core.events import Entry
from station.core.fold import replayed
from station.core.moment import Moment
from station.core.standing import Standing
from station.errors import LedgerFault, SlowDisk
from station.store.backup.shelf import BackupShelf
from station.store.chain import GENESIS, Row, entry_of
from station.store.faults import RecordDamaged, RecordForeign, RecordHeld
from station.store.ledger import LOCK_FILE, SqlLedger
from station.store.lock import lock_if_possible
from station.store.pen import PATIENCE_S, Answer, Pen
from station.store.rescue.plan import Rescue, plan_rescue
from station.store.rescue.restore import Restored, restore
from station.store.witness import WITNESS_FILE, Witness
from station.texts import t

log = logging.getLogger("tarebell.record")
_Batch = tuple[tuple[Entry, ...], tuple[KeepTrace, ...]]
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
        ticks: Callable[[], float],
        *,
        patience_s: float = PATIENCE_S,
        make: Callable[..., SqlLedger] = SqlLedger,
    ) -> None:
        """`ticks`: seconds of a clock that never runs back, by which the disk is found slow.

        Raises LedgerFault when another station has the folder, or the record is not for this version.
        """
        self._state_dir, self._shelf, self._before_change, self._make = state_dir, shelf, before_change, make
        self._recent: deque[Row] = deque(maxlen=RECENT_ROWS)
        self._ledger: SqlLedger | None = None
        self._fault: LedgerFault | None = None
        self._rescue: Rescue | None = None
        self._owed: _Batch | None = None
        self._late: tuple[_Batch, Future[None]] | None = None
        self._end = (0, GENESIS)
        self._lock = lock_if_possible(state_dir / LOCK_FILE)
        self._pen = Pen(patience_s, ticks)
        try:
            self._pen.call(self._open)
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
        return RecordHealth(damage, self._rescue, self._pen.slow)

    def close(self) -> None:
        """Finish what is begun, as far as the disk lets us, and let another station have the folder."""
        self._pen.end(self._close)
        if self._lock is not None:
            self._lock.release()

    def write(self, entries: Sequence[Entry], traces: Sequence[KeepTrace] = ()) -> None:
        """All of them or none, on disk when it returns. Raises LedgerFault; handing them in again is safe.

        After a fault, whatever was to be written before has to be handed in again before anything new.
        """
        self._owed = batch = tuple(entries), tuple(traces)
        if not self._arrived_late(batch):
            answer = self._pen.offer(lambda: self._write(batch))
            if not answer.done():
                self._late = batch, answer
                raise SlowDisk(t("The disk is slow."))
            answer.result()
        self._owed = None

    def heartbeat(self, at: Moment) -> None:
        """Keep `at` as evidence that the station ran until then; on a slow disk a little later. Raises LedgerFault."""
        self._ask(lambda: self._using(lambda ledger: ledger.heartbeat(at)))

    def keep_standing(self, standing: Standing) -> None:
        """A shortcut for the next start; on a slow disk a little later. Raises LedgerFault."""
        self._ask(lambda: self._using(lambda ledger: ledger.keep_standing(standing)))

    def standing(self, told: Callable[[int], object] = lambda _: None) -> Standing:
        """What the journal folds to; of a damaged record, what a restored one would. Raises LedgerFault.

        `told` hears on the pen's thread how many rows are read, now and then.
        """
        return self._pen.call(lambda: self._standing(told))

    def last_seen(self) -> Moment | None:
        """The latest moment for which there is evidence. Raises LedgerFault."""
        return self._pen.call(self._last_seen)

    def rows_are_safe(self, seq: int) -> None:
        """A backup holds the rows up to number `seq`: they need not be kept in memory."""
        self._pen.leave(lambda: self._recent_after(seq))

    def end_row(self) -> int:
        """Number of the last row that was written or read. From any thread."""
        return self._end[0]

    def damaged(self, words: str) -> None:
        """Somebody has found that the record is not as it was written."""
        self._pen.call(lambda: self._cannot_use(RecordDamaged(words)))

    def restore(self, at: Moment) -> Restored:
        """Put the rescued record in the place of the damaged one. Raises LedgerFault; then nothing has changed."""
        return self._pen.call(lambda: self._restore(at))

    def _ask(self, job: Callable[[], None]) -> None:
        answer = self._pen.offer(job)
        if answer.done():
            answer.result()

    def _arrived_late(self, batch: _Batch) -> bool:
        """Whether a write that nobody waited for has brought just this to the disk. Raises what it met there."""
        if self._late is None or not self._late[1].done():
            return False
        (late, answer), self._late = self._late, None
        answer.result()
        return late == batch

    # --- from here on everything runs on the pen's thread

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
            self._lock = self._lock or lock_if_possible(self._state_dir / LOCK_FILE)
            ledger = self._make(self._state_dir, self._lock, self._before_change)
            if ledger.end() != self._end:
                ledger.close()
                self._cannot_use(RecordDamaged(t("The record has changed while it could not be used.")))
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

    def _write(self, batch: _Batch) -> None:
        new = self._using(lambda ledger: ledger.write(*batch))
        self._recent.extend(new)
        if new:
            self._end = (new[-1].seq, new[-1].digest)

    def _recent_after(self, seq: int) -> None:
        self._recent = deque((row for row in self._recent if row.seq > seq), RECENT_ROWS)

    def _standing(self, told: Callable[[int], object]) -> Standing:
        if (found := self._read(lambda ledger: ledger.standing(told))) is not None:
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
        if (seen := self._read(lambda ledger: ledger.last_seen())) is not None:
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
            raise LedgerFault(t("The record is whole."), t("There is nothing to restore."))
        done = restore(self._rescue, self._state_dir, at)
        self._ledger = self._make(self._state_dir, self._lock, self._before_change)
        self._fault, self._rescue, self._end = None, None, self._ledger.end()
        log.warning("record restored rows=%d lost=%d set_aside=%s", done.rows, done.lost, done.set_aside)
        return done

    def _close(self) -> None:
        if self._owed is not None:
            try:
                self._write(self._owed)  # nobody hands it in again
            except LedgerFault as fault:
                log.error("record ends without the last entries waiting=%d why=%s", len(self._owed[0]), fault)
        if self._ledger is not None:
            self._ledger.close()
