"""Pragmas laid over the station's own when it opens the record for writing: for controls and for more checkpoints."""

from __future__ import annotations

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
