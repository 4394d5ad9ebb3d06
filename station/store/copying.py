"""Copying a record as it stands while it is written to: the database's own online backup, one state of it."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from station.store.engines import connect_read_only
from station.store.faults import told_as_faults


def copy_record(record: Path, copy: Path) -> None:
    """Put a whole copy of the record into the new file `copy`. Raises sqlite3.Error, OSError, and LedgerFault."""
    with told_as_faults(record):
        opened = connect_read_only(record)
    with closing(opened) as source, closing(sqlite3.connect(copy, isolation_level=None)) as target:
        source.backup(target)
        # The copy is a file of its own: no write-ahead log belongs to it.
        target.execute("PRAGMA journal_mode=DELETE").fetchall()


def size_of(record: Path) -> int:
    """Bytes that a copy takes at most."""
    log = record.with_name(record.name + "-wal")
    return record.stat().st_size + (log.stat().st_size if log.is_file() else 0)
