"""A writer to be watched: opens the record in a folder and writes casts, each entry acknowledged once it is on disk.

    python -m tests.faults.write_casts FOLDER CASTS [PRAGMA ...]

Pragmas, such as synchronous=NORMAL, are laid over the station's own: for the controls.
"""

from __future__ import annotations

import sys
from pathlib import Path

from station.store.ledger import SqlLedger
from tests.faults.overlay import laid_over
from tests.faults.shim import acknowledge
from tests.store.stories import a_day


def main(folder: Path, casts: int, pragmas: list[str]) -> None:
    """Write the day's entries one by one."""
    with laid_over(pragmas), SqlLedger(folder) as ledger:
        acknowledge("0")
        for count, entry in enumerate(a_day(casts), 1):
            ledger.write([entry])
            acknowledge(str(count))


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), sys.argv[3:])
