"""A schema that cannot be read, replaced on a copy: the rows lie where they lay, only what says so is spoilt."""

from __future__ import annotations

import sqlite3
from contextlib import closing, suppress
from pathlib import Path
from typing import Final

from sqlalchemy import Table, select
from sqlalchemy.dialects import sqlite
from sqlalchemy.schema import CreateTable

from station.store.engines import open_reader
from station.store.faults import STORE_ERRORS
from station.store.schema import journal, traces

_KEPT: Final[tuple[Table, ...]] = (journal, traces)
"""What is salvaged. Both are today what they were in the first version."""


def mended(copy: Path) -> None:
    """Where a row of the journal cannot even be asked for: put today's tables into `copy`, for reading only.

    Nothing is raised; where this does not help either, the copy stays unreadable.
    """
    if _answers(copy):
        return
    with suppress(*STORE_ERRORS), closing(sqlite3.connect(copy, isolation_level=None)) as db:
        # The one way in which SQLite opens a file whose schema it cannot make out (its manual, PRAGMA writable_schema).
        db.execute("PRAGMA writable_schema=ON")
        names = [table.name for table in _KEPT]
        marks = ", ".join("?" for _ in names)
        # An index without a text of its own belongs to the primary key, and its table is not read without it.
        db.execute(
            f"DELETE FROM sqlite_master WHERE NOT (name IN ({marks}) OR (tbl_name IN ({marks}) AND sql IS NULL))",
            names + names,
        )
        for table in _KEPT:
            text = str(CreateTable(table).compile(dialect=sqlite.dialect()))
            db.execute("UPDATE sqlite_master SET sql = ? WHERE name = ?", (text.strip(), table.name))


def _answers(copy: Path) -> bool:
    engine = open_reader(copy)
    try:
        with engine.begin() as db:
            for table in _KEPT:
                db.execute(select(table).limit(1)).first()
    except STORE_ERRORS:
        return False
    else:
        return True
    finally:
        engine.dispose()
