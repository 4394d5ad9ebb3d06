"""Who holds a port: the program that has it open, as far as this user may see."""

from __future__ import annotations

import contextlib
import os
from pathlib import Path

from station.texts import t

_PROCESSES = Path("/proc")


def holder_of(port: str, processes: Path = _PROCESSES) -> str | None:
    """The name and number of another process that has the device file open, as words; None when none is seen."""
    device = os.path.realpath(port)
    for process in processes.glob("[0-9]*"):
        if process.name == str(os.getpid()):
            continue
        with contextlib.suppress(OSError):
            if any(os.path.realpath(handle) == device for handle in (process / "fd").iterdir()):
                name = (process / "comm").read_text(encoding="utf-8", errors="replace").strip()
                return t("{name} (process {number})", name=name, number=process.name)
    return None
