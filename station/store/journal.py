"""The journal's table: read it in order, find its end, put rows at its end. Nothing here changes a row."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from sqlalchemy import Connection, Engine, insert, select

from station.core.events import Entry
from station.store.chain import GENESIS, Row, row_of
from station.store.schema import journal

CHUNK: Final = 500


def tail(db: Connection, rows: int = 1) -> list[Row]:
    """The last `rows` rows, oldest first."""
    newest = db.execute(select(journal).order_by(journal.c.seq.desc()).limit(rows))
    return [Row(*columns) for columns in newest][::-1]


def already_written(db: Connection, entries: Sequence[Entry]) -> int:
    """How many of `entries` the journal already ends with: a commit whose success nobody learned of.

    Nothing happens twice at one moment, so rows that say the same as the entries are those entries.
    """
    last = tail(db)
    if not last or not entries:
        return 0
    said = [row_of(entry, 0, GENESIS).said for entry in entries]
    for count in range(len(entries), 0, -1):
        if said[count - 1] == last[0].said and [row.said for row in tail(db, count)] == said[:count]:
            return count
    return 0


def append(db: Connection, entries: Sequence[Entry]) -> list[Row]:
    """Chain the entries onto the journal's end; the new rows."""
    last = tail(db)
    seq, previous = (last[0].seq, last[0].digest) if last else (0, GENESIS)
    rows: list[Row] = []
    for entry in entries:
        seq += 1
        row = row_of(entry, seq, previous)
        previous = row.digest
        rows.append(row)
    put(db, rows)
    return rows


def put(db: Connection, rows: Sequence[Row]) -> None:
    """Put sealed rows at the journal's end as they are."""
    if rows:
        db.execute(insert(journal), [_columns(row) for row in rows])


def rows_after(db: Connection, seq: int, limit: int = CHUNK) -> list[Row]:
    """The next rows after number `seq`, in order."""
    found = db.execute(select(journal).where(journal.c.seq > seq).order_by(journal.c.seq).limit(limit))
    return [Row(*columns) for columns in found]


def all_rows(engine: Engine) -> Iterator[Row]:
    """The whole journal in order, read in pieces: no transaction stays open between them."""
    seq = 0
    while True:
        with engine.begin() as db:
            rows = rows_after(db, seq)
        if not rows:
            return
        yield from rows
        seq = rows[-1].seq


def _columns(row: Row) -> dict[str, object]:
    return {column.name: getattr(row, column.name) for column in journal.columns}
