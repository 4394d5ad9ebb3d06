"""Looking at, and damaging, a record behind the station's back."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

DERIVED = ("casts", "weighings", "alarms", "defects", "hardness", "lengths", "cast_lots", "lot_counts", "pours")


@contextmanager
def opened(path: Path) -> Iterator[sqlite3.Connection]:
    """A plain connection without the station's rules; what was done is committed at the end."""
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        yield db


def table(path: Path, name: str) -> list[tuple[Any, ...]]:
    """All rows of a table in a fixed order."""
    with opened(path) as db:
        return sorted(db.execute(f"SELECT * FROM {name}").fetchall(), key=repr)


def tables(path: Path) -> dict[str, list[tuple[Any, ...]]]:
    """The derived tables."""
    return {name: table(path, name) for name in DERIVED}


def without_guards(db: sqlite3.Connection) -> None:
    """Take away the triggers that keep the journal from being changed."""
    for (name,) in db.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
        db.execute(f"DROP TRIGGER {name}")
