"""Building the shim (see watching.h) and reading its log: what a program did to the files of one folder, in order.

The log is a row of records: a head of 32 bytes (kind, errno, lengths, file number, position, length), then one or
two paths, then the bytes written. `Op` is one record.
"""

from __future__ import annotations

import os
import shutil
import struct
import subprocess
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import IntEnum
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).parents[2]
_HERE: Final = Path(__file__).parent
_HEAD: Final = struct.Struct("<BBHHHQQQ")
MARKS_VARIABLE: Final = "SHIM_MARKS"


class Kind(IntEnum):
    """What was done. The numbers are those of `enum kind` in watching.h."""

    OPENED = 1
    WROTE = 2
    RESIZED = 3
    SYNCED = 4
    RENAMED = 5
    LINKED = 6
    UNLINKED = 7
    MADE = 8
    CLOSED = 9
    MARKED = 10
    FAILED = 11
    BLIND = 12


@dataclass(frozen=True, slots=True)
class Op:
    """One thing done. `at` is a position or size in bytes, for OPENED 1 when the file was new, for FAILED the call's
    number. `file` tells open files apart. Paths are relative to the watched folder; "." is that folder itself."""

    kind: Kind
    error: int
    path: str
    other: str
    file: int
    at: int
    data: bytes


@dataclass(frozen=True, slots=True)
class Log:
    """What was below the folder before, what was done to it, and how the program ended."""

    before: Mapping[str, bytes]
    folders: frozenset[str]
    ops: Sequence[Op]
    status: int
    said: str = field(repr=False)


def compiled(into: Path) -> Path | None:
    """The shim as a shared object; None where there is no gcc. Raises CalledProcessError when it cannot be built."""
    gcc = shutil.which("gcc")
    if gcc is None:
        return None
    shim = into / "shim.so"
    flags = ["-shared", "-fPIC", "-O1", "-Wall", "-Wextra", "-Werror", "-U_FORTIFY_SOURCE"]
    subprocess.run([gcc, *flags, "-o", str(shim), str(_HERE / "shim.c"), "-ldl", "-lpthread"], check=True)
    return shim


def environment(shim: Path, folder: Path, **settings: object) -> dict[str, str]:
    """The variables under which a program is watched. `settings`: log, marks, hurry, at, errno, sticky, until, room."""
    named = {f"SHIM_{name.upper()}": str(value) for name, value in settings.items()}
    python = {"PYTHONPATH": str(ROOT), "PYTHONDONTWRITEBYTECODE": "1", "SQLALCHEMY_SILENCE_UBER_WARNING": "1"}
    return {**os.environ, **python, "LD_PRELOAD": str(shim), "SHIM_FOLDER": str(folder.resolve()), **named}


def watched(shim: Path, folder: Path, command: Sequence[str], beside: Path) -> Log:
    """Run a program to its end (at most two minutes) and return what it did below `folder`; `beside` is for scratch.

    Raises AssertionError when it wrote in a way the shim cannot see.
    """
    folder = folder.resolve()
    before = {str(file.relative_to(folder)): file.read_bytes() for file in folder.rglob("*") if file.is_file()}
    folders = frozenset(str(each.relative_to(folder)) for each in [folder, *folder.rglob("*")] if each.is_dir())
    log, marks = beside / "calls.log", beside / "marks"
    log.unlink(missing_ok=True)
    ran = subprocess.run(
        command,
        env=environment(shim, folder, log=log, marks=marks),
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        timeout=120,
        check=False,
    )
    ops = list(_ops(log.read_bytes(), str(folder)))
    assert not any(op.kind is Kind.BLIND for op in ops), "the program wrote through a shared mapping"
    return Log(before, folders, ops, ran.returncode, ran.stdout)


def _ops(log: bytes, folder: str) -> Iterator[Op]:
    at = 0
    while at < len(log):
        kind, error, path, other, _, file, position, length = _HEAD.unpack_from(log, at)
        at += _HEAD.size
        ends = (at + path, at + path + other, at + path + other + length)
        names = (_relative(log[at : ends[0]], folder), _relative(log[ends[0] : ends[1]], folder))
        yield Op(Kind(kind), error, *names, file, position, log[ends[1] : ends[2]])
        at = ends[2]


def _relative(path: bytes, folder: str) -> str:
    return os.path.relpath(os.fsdecode(path), folder) if path else ""


def acknowledge(words: str) -> None:
    """Say in the log that what was done so far counts as kept: called by the program that is watched."""
    marks = os.open(os.environ[MARKS_VARIABLE], os.O_WRONLY | os.O_APPEND | os.O_CREAT)
    try:
        os.write(marks, words.encode() + b"\n")
    finally:
        os.close(marks)
