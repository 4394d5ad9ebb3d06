"""The rescue of a record: which backup to begin from, which rows go on from it, and how many are known to be lost."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from station.core.events import Entry
from station.errors import LedgerFault
from station.record_words import lost_words
from station.store import journal
from station.store.backup.contents import RECORD
from station.store.backup.packing import Backup, unpacked
from station.store.backup.shelf import BackupShelf
from station.store.chain import GENESIS, Row, entry_of
from station.store.engines import open_reader
from station.store.rescue.places import sources
from station.store.rescue.salvage import onto, sealed_rows
from station.store.witness import WITNESS_FILE, Witness
from station.texts import t, tn


@dataclass(frozen=True, slots=True)
class Rescue:
    """What a restored record will hold: the rows of `base` (None: no backup), then `rows`.

    `reached` is the highest row number of which anything is known; what lies between it and the end is `lost`.
    """

    base: Backup | None
    rows: tuple[Row, ...]
    reached: int

    @property
    def end(self) -> int:
        """Number of its last row."""
        return self.rows[-1].seq if self.rows else self._base_rows

    @property
    def lost(self) -> int:
        """Rows that are known to have been written and are nowhere to be found."""
        return max(0, self.reached - self.end)

    @property
    def _base_rows(self) -> int:
        return 0 if self.base is None else self.base.label.rows

    def last_row(self) -> Row | None:
        """Its last row; None for an empty journal. Raises LedgerFault."""
        if self.rows or self.base is None:
            return self.rows[-1] if self.rows else None
        with unpacked(self.base.file) as (room, _):
            engine = open_reader(room / RECORD)
            try:
                with engine.begin() as db:
                    return next(iter(journal.tail(db)), None)
            finally:
                engine.dispose()

    def words(self) -> str:
        """What restoring gives, in a sentence or two."""
        told = [self._base_words()]
        if self.rows:
            n = len(self.rows)
            more = tn("{n} more is whole in the damaged record.", "{n} more are whole in the damaged record.", n)
            told.append(more)
        told.append(lost_words(self.lost))
        return " ".join(told)

    def _base_words(self) -> str:
        if self.base is None:
            return t("No backup is good.")
        made = f"{self.base.label.made:%Y-%m-%d %H:%M}"
        return tn(
            "The backup of {made} UTC holds {n} row.",
            "The backup of {made} UTC holds {n} rows.",
            self._base_rows,
            made=made,
        )

    def entries(self) -> Iterator[Entry]:
        """The journal as it will be. Raises LedgerFault."""
        if self.base is not None:
            with unpacked(self.base.file) as (room, _), _reading(room / RECORD) as rows:
                for row in rows:
                    yield entry_of(row)
        for row in self.rows:
            yield entry_of(row)


@contextmanager
def _reading(record: Path) -> Iterator[Iterator[Row]]:
    engine = open_reader(record)
    try:
        yield journal.all_rows(engine)
    finally:
        engine.dispose()


def plan_rescue(
    state_dir: Path, shelf: BackupShelf, in_memory: Sequence[Row] = (), witnessed: int = 0, base: Backup | None = None
) -> Rescue:
    """The rescue that saves most.

    `in_memory` are rows of this run, `witnessed` the last row known to have been written. Begins from `base`, or else
    from the newest backup that is good; without one from what the damaged record begins with.
    """
    if base is None:
        base = shelf.newest_good(_first_digest(state_dir))
    best = _from(base, state_dir, in_memory, witnessed)
    alone = best if base is None else _from(None, state_dir, in_memory, witnessed)
    # A backup of another history, as after an earlier restoring, must not win over more of this one.
    return alone if alone.end > best.end else best


def _first_digest(state_dir: Path) -> str:
    """Digest of the record's first row, as far as anything still tells it."""
    seen = Witness(state_dir / WITNESS_FILE).read()
    if seen is not None:
        return seen.first
    for source in sources(state_dir):
        first = next(_whatever_can_be_had(sealed_rows(source)), None)
        if first is not None and first.seq == 1:
            return first.digest
    return ""


def _from(base: Backup | None, state_dir: Path, in_memory: Sequence[Row], witnessed: int) -> Rescue:
    start = (0, GENESIS) if base is None or not base.label.rows else (base.label.rows, base.label.digest)
    end, found, reached = start, list[Row](), max(witnessed, start[0])
    progress = True
    while progress:
        progress = False
        for rows in (*(_sealed(source, end[0]) for source in sources(state_dir)), list(in_memory)):
            reached = max([reached, *(row.seq for row in rows)])
            more = onto(end, rows)
            if more:
                found += more
                end, progress = (more[-1].seq, more[-1].digest), True
    return Rescue(base, tuple(found), reached)


def _sealed(record: Path, after: int) -> list[Row]:
    return list(_whatever_can_be_had(sealed_rows(record, after)))


def _whatever_can_be_had(rows: Iterable[Row]) -> Iterator[Row]:
    try:
        yield from rows
    except LedgerFault:
        return
