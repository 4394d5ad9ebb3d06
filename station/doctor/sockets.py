"""Who listens on a port of this machine, by the kernel's tables (proc(5), net/tcp)."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from station.doctor.probe import text_of
from station.handles import Program, programs_with

_LISTENS = "0A"


@dataclass(frozen=True, slots=True)
class Listening:
    """Somebody listens; `program` is who, None where this user may not see it."""

    program: Program | None


def listening_on(port: int, processes: Path) -> Listening | None:
    """Who listens for TCP on this port, with any address; None when nobody does. Nothing is raised."""
    tables = [text_of(processes / "self" / "net" / name) for name in ("tcp", "tcp6")]
    inodes = [inode for table in tables for line in table.splitlines()[1:] if (inode := _inode(line, port))]
    if not inodes:
        return None
    found = [one for inode in inodes for one in programs_with(f"socket:[{inode}]", processes)]
    return Listening(found[0] if found else None)


def _inode(line: str, port: int) -> str:
    """The number of the socket, when this line is one that listens on the port; else empty."""
    words = line.split()
    if len(words) < 10 or words[3] != _LISTENS:
        return ""
    return words[9] if words[1].rpartition(":")[2] == f"{port:04X}" else ""
