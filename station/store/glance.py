"""A glance at the record: can it be opened, of which version is it, is its end whole and as far as it once came.

It reads the record's last rows only, however long it is; `verify` reads all of them.
"""

from __future__ import annotations

from pathlib import Path
from typing import Final

from station.store.chain import Row, sealed_by
from station.store.engines import open_reader
from station.store.faults import RecordDamaged, RecordForeign, told_as_faults
from station.store.journal import tail
from station.store.schema import VERSION
from station.store.verify import cut_short
from station.store.versions import version_of
from station.store.witness import WITNESS_FILE, Witness
from station.texts import t

_ROWS: Final = 20


def rows_at_a_glance(record: Path) -> int:
    """How many rows the journal has. Raises LedgerFault: RecordDamaged when its end is not whole, RecordForeign."""
    # Read first: a station that writes meanwhile must not look like a journal cut short.
    seen = Witness(record.with_name(WITNESS_FILE)).read()
    engine = open_reader(record)
    try:
        with told_as_faults(record), engine.begin() as db:
            version = version_of(db)
            if version is None:
                raise RecordForeign(
                    t("{record} holds no record of this station.", record=record),
                    t("Move that file away, or name another folder in the settings."),
                )
            if version > VERSION:
                raise RecordForeign(
                    t("{record} was written by a newer version of the station.", record=record),
                    t("Install that version again."),
                )
            rows = tail(db, _ROWS)
    finally:
        engine.dispose()
    before = rows[0].previous if rows else ""
    for row in rows:
        if row.previous != before or not _is_sealed(row):
            raise RecordDamaged(t("Row {seq} is not as it was written.", seq=row.seq))
        before = row.digest
    last = rows[-1].seq if rows else 0
    if seen is not None and seen.seq > last:
        raise RecordDamaged(cut_short(last, seen))
    return last


def _is_sealed(row: Row) -> bool:
    try:
        return sealed_by(row) == row.digest
    except (TypeError, ValueError):  # a value of a type that no row was ever written with
        return False
