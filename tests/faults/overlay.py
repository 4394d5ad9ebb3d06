"""Carelessness laid over the station, for controls: pragmas when it opens the record, or no fsync of other files.

Pragmas serve for more checkpoints too.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from unittest.mock import patch

from sqlalchemy import Engine, event

from station.store.engines import open_writer


@contextmanager
def laid_over(pragmas: Sequence[str]) -> Iterator[None]:
    """Within it, ledgers open their writers with these pragmas, such as synchronous=NORMAL, after the station's."""

    def opened(place: Path | str) -> Engine:
        engine = open_writer(place)

        @event.listens_for(engine, "connect")
        def _lay_over(connection: sqlite3.Connection, _record: object) -> None:
            for pragma in pragmas:
                connection.execute(f"PRAGMA {pragma}").fetchall()

        return engine

    with patch("station.store.ledger.open_writer", opened):
        yield


@contextmanager
def unsynced() -> Iterator[None]:
    """Within it, the station's own fsync does nothing. SQLite's still works: it is another library's call."""
    with patch.object(os, "fsync", lambda _descriptor: None):
        yield
