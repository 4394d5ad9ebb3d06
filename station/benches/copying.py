"""Copying: the next rows of this bench's journal onto the end of their copy in the shared log, each exactly once.

Where the copy ends is asked of the server each time, in the transaction that goes on from there. So it does not matter
whether an earlier one arrived of which nobody learned, and the copy is always the beginning of this very journal.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from sqlalchemy import Connection, insert, select

from station.benches.faults import NotTaken
from station.benches.feed import Feed, JournalRow
from station.benches.identity import Own, claim
from station.benches.shelf import put
from station.benches.tables import journal
from station.texts import t

BATCH: Final = 500
GENESIS: Final = "0" * 64


def copy_next(db: Connection, own: Own, feed: Feed, batch: int = BATCH) -> int:
    """Copy at most `batch` rows and the casts they belong to; how many rows it were.

    Raises NotTaken when the digit is another's, or the copy there is not the beginning of this record.
    """
    claim(db, own)
    seq, digest = copied_to(db, own.bench)
    if seq > 0:
        _check_same(own, feed, seq, digest)
    rows = feed.rows_after(seq, batch)
    _check_chain(rows, seq, digest)
    if rows:
        db.execute(insert(journal), [_columns(own.bench, row) for row in rows])
    for number in sorted({row.cast_number for row in rows if row.cast_number is not None}):
        cast = feed.cast(number)
        if cast is not None:
            put(db, own.bench, cast)
    return len(rows)


def copied_to(db: Connection, bench: int) -> tuple[int, str]:
    """Number and digest of the last row of this bench's copy; 0 when there is none."""
    newest = select(journal.c.seq, journal.c.digest).where(journal.c.bench == bench)
    last = db.execute(newest.order_by(journal.c.seq.desc()).limit(1)).first()
    return (0, GENESIS) if last is None else (last.seq, last.digest)


def rows_there(db: Connection, bench: int, after: int, limit: int) -> list[tuple[object, ...]]:
    """The next rows of a bench's copy after number `after`, each its columns in the order of the journal's."""
    some = select(*journal.columns[1:]).where(journal.c.bench == bench, journal.c.seq > after)
    return [tuple(row) for row in db.execute(some.order_by(journal.c.seq).limit(limit))]


def benches_there(db: Connection) -> list[int]:
    """The digits of all benches that have rows there."""
    return list(db.execute(select(journal.c.bench).distinct().order_by(journal.c.bench)).scalars())


def _check_same(own: Own, feed: Feed, seq: int, digest: str) -> None:
    mine = feed.rows_after(seq - 1, 1)
    if not mine or mine[0].seq != seq:
        raise NotTaken(
            t(
                "The shared log holds {seq} rows of bench {bench}, more than this station's record: an older state of "
                "the record was brought back.",
                seq=seq,
                bench=own.bench,
            ),
            t("Nothing was overwritten. Bring back a newer backup, or give this bench another digit."),
        )
    if mine[0].digest != digest:
        raise NotTaken(
            t(
                "Row {seq} of bench {bench} in the shared log is not row {seq} of this station's record: they are two "
                "different records.",
                seq=seq,
                bench=own.bench,
            ),
            t("Nothing was overwritten. Give this bench another digit, or bring back the record that belongs to it."),
        )


def _check_chain(rows: Sequence[JournalRow], seq: int, digest: str) -> None:
    for row in rows:
        if row.seq != seq + 1 or row.previous != digest:
            raise NotTaken(
                t("Row {seq} of this station's record does not follow the row before it.", seq=row.seq),
                t("`tarebell verify` says what is wrong; nothing from there on is copied to the shared log."),
            )
        seq, digest = row.seq, row.digest


def _columns(bench: int, row: JournalRow) -> dict[str, object]:
    return {"bench": bench} | {column.name: getattr(row, column.name) for column in journal.columns[1:]}
