"""A writer to be watched: opens the record in a folder and writes casts, each entry acknowledged once it is on disk.

    python -m tests.faults.write_casts FOLDER CASTS [PRAGMA ...]

Pragmas, such as synchronous=NORMAL, are laid over the station's own: for the controls.
"""

from __future__ import annotations

import sqlite3
import sys
from pathlib import Path
from unittest.mock import patch

from sqlalchemy import Engine, event

from station.store.engines import open_writer
from station.store.ledger import SqlLedger
from tests.faults.shim import acknowledge
from tests.store.stories import a_day


def main(folder: Path, casts: int, pragmas: list[str]) -> None:
    """Write the day's entries one by one."""

    def opened(place: Path | str) -> Engine:
        engine = open_writer(place)

        @event.listens_for(engine, "connect")
        def _lay_over(connection: sqlite3.Connection, _record: object) -> None:
            for pragma in pragmas:
                connection.execute(f"PRAGMA {pragma}").fetchall()

        return engine

    with patch("station.store.ledger.open_writer", opened), SqlLedger(folder) as ledger:
        acknowledge("0")
        for count, entry in enumerate(a_day(casts), 1):
            ledger.write([entry])
            acknowledge(str(count))


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), sys.argv[3:])
