"""Which programs have a file, a device or a socket open, from the kernel's files, as far as this user may see."""

from __future__ import annotations

import contextlib
import os
import stat
from dataclasses import dataclass
from pathlib import Path

from station.texts import t

PROCESSES = Path("/proc")
_PSEUDO_TERMINALS = range(136, 144)
"""Major numbers of their devices, by the kernel's own list (admin-guide/devices)."""


@dataclass(frozen=True, slots=True)
class Program:
    """A program that runs, by its process number and its name."""

    pid: int
    name: str

    @property
    def words(self) -> str:
        """As it is spoken of."""
        return t("{name} (process {pid})", name=self.name, pid=self.pid)


def programs_with(handle: str, processes: Path = PROCESSES) -> list[Program]:
    """The other programs that have `handle` open: a device's real path, or a socket as `socket:[4711]`."""
    found = []
    for process in sorted(processes.glob("[0-9]*")):
        if process.name == str(os.getpid()):
            continue
        with contextlib.suppress(OSError):
            if any(_leads_to(each, handle) for each in (process / "fd").iterdir()):
                found.append(Program(int(process.name), _name(process)))
    return found


def program(pid: int, processes: Path = PROCESSES) -> Program:
    """The program of this process; without a name when it has just ended."""
    try:
        return Program(pid, _name(processes / str(pid)))
    except OSError:
        return Program(pid, "?")


def _name(process: Path) -> str:
    return (process / "comm").read_text(encoding="utf-8", errors="replace").strip()


def same(one: os.stat_result, other: os.stat_result) -> bool:
    """Whether both are one file, or two nodes of one device."""
    if (one.st_dev, one.st_ino) == (other.st_dev, other.st_ino):
        return True
    if not (stat.S_ISCHR(one.st_mode) and stat.S_ISCHR(other.st_mode)):
        return False
    # Pseudo-terminals are counted anew in each container, so there the number alone says nothing.
    return one.st_rdev == other.st_rdev and os.major(one.st_rdev) not in _PSEUDO_TERMINALS


def _leads_to(link: Path, handle: str) -> bool:
    try:
        if os.readlink(link) != handle:
            return False
        # A container has other files under the same names.
        return not handle.startswith("/") or same(link.stat(), os.stat(handle))
    except OSError:  # closed since it was listed
        return False
