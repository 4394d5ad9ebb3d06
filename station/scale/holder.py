"""Who holds a port: the program that has it open, as far as this user may see."""

from __future__ import annotations

import os
from pathlib import Path

from station.handles import PROCESSES, programs_with


def holder_of(port: str, processes: Path = PROCESSES) -> str | None:
    """The name and number of another process that has the device file open, as words; None when none is seen."""
    holders = programs_with(os.path.realpath(port), processes)
    return holders[0].words if holders else None
