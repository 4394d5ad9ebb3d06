"""Which programs have a file, a device or a socket open, from the kernel's files, as far as this user may see."""

from __future__ import annotations

import contextlib
import os
from dataclasses import dataclass
from pathlib import Path

from station.texts import t

PROCESSES = Path("/proc")


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
            if any(_target(each) == handle for each in (process / "fd").iterdir()):
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


def _target(handle: Path) -> str:
    try:
        return os.readlink(handle)
    except OSError:  # closed since it was listed
        return ""
