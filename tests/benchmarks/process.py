"""A process as the unit would start it, and what the kernel counts of one: processor time, memory, threads, bytes
towards a disk."""

from __future__ import annotations

import os
import re
from contextlib import suppress
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def as_installed() -> dict[str, str]:
    """The environment of the unit's process. Modules are compiled once: by its installing, or here by a first start."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return {**kept, "PYTHONPATH": str(ROOT), "MALLOC_ARENA_MAX": "1"}


def cpu_s(pid: int) -> float:
    """Seconds of processor time of the threads that live now, to the nanosecond; those that ended count no more."""
    total = 0
    for task in Path(f"/proc/{pid}/task").iterdir():
        with suppress(OSError):  # it ended just now
            total += int((task / "schedstat").read_text("ascii").split()[0])
    return total / 1e9


def _status(pid: int, key: str) -> int:
    found = re.search(rf"^{key}:\s+(\d+)", Path(f"/proc/{pid}/status").read_text("ascii"), re.MULTILINE)
    if found is None:
        raise ValueError(f"the kernel tells no {key}")
    return int(found[1])


def resident_mb(pid: int) -> float:
    """MB (10^6 bytes) of memory that the process holds now."""
    return _status(pid, "VmRSS") * 1024 / 1e6


def threads(pid: int) -> int:
    """How many threads it has."""
    return _status(pid, "Threads")


def written(pid: int) -> int:
    """Bytes of pages that it made dirty for a disk, since it began."""
    lines = dict(line.split(": ") for line in Path(f"/proc/{pid}/io").read_text("ascii").splitlines())
    return int(lines["write_bytes"])
