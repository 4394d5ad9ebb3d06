"""Whether a station runs on this record, found out without touching it: by who holds its lock, and by its unit."""

from __future__ import annotations

import os
from dataclasses import dataclass
from enum import Enum
from pathlib import Path

from station.doctor.probe import Probe, text_of
from station.doctor.unit import Unit
from station.handles import Program, program, programs_with
from station.store.ledger import LOCK_FILE


class Life(Enum):
    """Whether the station runs."""

    RUNS = "runs"
    STOPPED = "stopped"
    UNKNOWN = "unknown"
    """This user may not see it: what a running station would mind must not be done."""


@dataclass(frozen=True, slots=True)
class Found:
    """Whether it runs, and as which program where that is known."""

    life: Life
    program: Program | None = None


def life_of(probe: Probe, state_dir: Path, unit: Unit | None) -> Found:
    """Whether a station runs on the record in `state_dir`. Nothing is raised, and no lock is tried."""
    processes = probe.root / "proc"
    locks = text_of(processes / "locks")
    try:
        held = _holder(locks, state_dir / LOCK_FILE)
        seen = bool(locks)
    except FileNotFoundError:
        held, seen = None, True  # no station has ever run there
    except OSError:
        held, seen = None, False
    if held is not None:
        return Found(Life.RUNS, program(held, processes))
    # Some file systems number their devices otherwise in the list of locks.
    if has_it := programs_with(os.path.realpath(state_dir / LOCK_FILE), processes):
        return Found(Life.RUNS, has_it[0])
    if unit is not None and unit.may_run:
        return Found(Life.RUNS, program(unit.pid, processes) if unit.pid else None)
    return Found(Life.STOPPED if seen else Life.UNKNOWN)


def _holder(locks: str, file: Path) -> int | None:
    """Who holds a lock on the file, by the kernel's list of locks (proc(5)). Raises OSError."""
    told = file.stat()
    place = f"{os.major(told.st_dev):02x}:{os.minor(told.st_dev):02x}:{told.st_ino}"
    for line in locks.splitlines():
        words = line.split()
        # A line with -> tells of somebody who waits for the lock.
        if len(words) >= 6 and words[1] == "FLOCK" and words[5] == place and words[4].isdigit():
            return int(words[4])
    return None
