"""Salvage: every row that can still be read of a damaged journal and is sealed as it was written."""

from __future__ import annotations

import shutil
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Final

from sqlalchemy import Connection, Engine, select

from station.errors import LedgerFault
from station.store.chain import Row, sealed_by
from station.store.engines import open_reader
from station.store.faults import STORE_ERRORS
from station.store.rescue.places import parts
from station.store.rescue.schema import mended
from station.store.schema import journal, traces
from station.store.scratch import scratch

_CHUNK: Final = 500
_PAGE: Final = 4096
_GIVE_UP_AFTER: Final = 2_000
"""So many places in a row without a readable row: the end was reached."""
Trace = tuple[int, int, bytes]
"""Cast number, step, packed points."""


def sealed_rows(record: Path, after: int = 0) -> Iterator[Row]:
    """Rows numbered above `after`, ascending, that are as they were written. Unreadable ones are passed over."""
    with _on_a_copy(record) as engine:
        for row in _readable(engine, after):
            if _is_sealed(row):
                yield row


def onto(end: tuple[int, str], rows: Iterable[Row]) -> list[Row]:
    """Those of the rows (ascending) that go on from the row `end` (its number and digest), without a gap."""
    seq, digest = end
    found: list[Row] = []
    for row in rows:
        if row.seq == seq + 1 and row.previous == digest:
            found.append(row)
            seq, digest = row.seq, row.digest
        elif row.seq > seq + 1:
            break
    return found


def kept_traces(record: Path, casts: Sequence[int]) -> list[Trace]:
    """Weighing traces of these casts, as far as they can be read."""
    found: list[Trace] = []
    with _on_a_copy(record) as engine:
        for number in casts:
            try:
                with engine.begin() as db:
                    rows = db.execute(select(traces).where(traces.c.cast_number == number)).all()
            except STORE_ERRORS:
                continue
            found += [(row.cast_number, row.step, row.points) for row in rows if isinstance(row.points, bytes)]
    return found


@contextmanager
def _on_a_copy(record: Path) -> Iterator[Engine]:
    """A reader on a copy: the database tidies up when it is opened, and may throw away a log that nobody else has."""
    files = [file for file in parts(record) if not file.name.endswith("-shm")]
    with scratch(sum(file.stat().st_size for file in files)) as folder:
        for file in files:
            shutil.copyfile(file, folder / file.name)
        copy = folder / record.name
        if not copy.stat().st_size:
            copy.write_bytes(bytes(_PAGE))  # beside an empty file a log would not even be looked at
        mended(copy)
        engine = open_reader(copy)
        try:
            yield engine
        finally:
            engine.dispose()


def _readable(engine: Engine, after: int) -> Iterator[Row]:
    """By pieces, and where a piece cannot be read one by one: a bad page takes only its own rows with it."""
    seq, misses = after, 0
    while misses < _GIVE_UP_AFTER:
        try:
            with engine.begin() as db:
                rows = _between(db, seq, seq + _CHUNK)
                more = bool(rows) or _any_after(db, seq + _CHUNK)
        except STORE_ERRORS:
            rows, more = _one_by_one(engine, seq, seq + _CHUNK), True
        yield from rows
        if not more:
            return
        misses = 0 if rows else misses + _CHUNK
        seq += _CHUNK


def _between(db: Connection, above: int, upto: int) -> list[Row]:
    found = db.execute(select(journal).where(journal.c.seq > above, journal.c.seq <= upto).order_by(journal.c.seq))
    return [Row(*columns) for columns in found]


def _any_after(db: Connection, seq: int) -> bool:
    return db.execute(select(journal.c.seq).where(journal.c.seq > seq).limit(1)).first() is not None


def _one_by_one(engine: Engine, above: int, upto: int) -> list[Row]:
    found: list[Row] = []
    try:
        with engine.connect() as db:
            for seq in range(above + 1, upto + 1):
                try:
                    found += _between(db, seq - 1, seq)
                except STORE_ERRORS:
                    db.rollback()
    except STORE_ERRORS:
        return found  # it cannot even be opened
    return found


def _is_sealed(row: Row) -> bool:
    try:
        return sealed_by(row) == row.digest
    except (TypeError, ValueError, LedgerFault):  # a value of a type that no row was ever written with
        return False
