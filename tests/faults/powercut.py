"""The disk as a power cut leaves it, made from a log of what a program did (shim.Log). Pure: nothing is written here.

What a cut leaves of a file (see sectors.py): all that a finished fsync covered; of everything later, each sector of
512 bytes may hold any state it once had, and the size any it once had. So a write can be there, be dropped, be torn
between sectors, or come before an earlier one. Bytes inside the size that were never written are zero.

What a cut leaves of a folder: changes that a finished fsync of the folder covered; each later one is there or not. A
renamed file has its old name or its new one. `Folders` says whether the fsync of a file covers its own new name too.
Finer than a sector nothing is torn, and a disk that lies about fsync is beyond any program.
"""

from __future__ import annotations

import posixpath
import random
from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from typing import Final

from tests.faults.sectors import File, left
from tests.faults.shim import Kind, Log, Op


class Folders(Enum):
    """How names in folders reach the disk."""

    STRICT = "only by an fsync of the folder"
    LENIENT = "by an fsync of the folder; a new file's or folder's name also by an fsync of what it holds"


@dataclass(frozen=True, slots=True)
class _Change:
    """A folder's change: `name` stands for `file` from now on (None: for nothing), and `old` no longer does."""

    name: str
    file: File | None
    old: str = ""
    new: bool = False


@dataclass(frozen=True, slots=True)
class Remains:
    """What a cut left: the folders and the files with their content, by paths relative to the watched folder."""

    folders: tuple[str, ...]
    files: dict[str, bytes]


_A_FOLDER: Final = File()


class Disk:
    """Plays a log forward. `cut` tells what a power cut at this place could leave; it changes nothing."""

    def __init__(self, log: Log, folders: Folders) -> None:
        self._ops, self._folders, self.place = log.ops, folders, 0
        self._live: dict[str, File] = {name: File(bytearray(data)) for name, data in log.before.items()}
        self._live |= dict.fromkeys(log.folders, _A_FOLDER)
        self._sure = dict(self._live)
        self._changes: list[_Change] = []
        self._open: dict[int, File] = {}
        self.acknowledged: list[str] = []

    def advance(self, place: int) -> None:
        """Go on until `place` operations of the log have been done."""
        for op in self._ops[self.place : place]:
            self._do(op)
        self.place = max(place, self.place)

    def _do(self, op: Op) -> None:
        match op.kind:
            case Kind.OPENED:
                if op.at or op.path not in self._live:
                    self._change(_Change(op.path, File(), new=True))
                self._open[op.file] = self._live[op.path]
            case Kind.WROTE:
                self._open[op.file].later.append((op.at, op.data))
            case Kind.RESIZED:
                self._open[op.file].later.append((op.at, None))
            case Kind.SYNCED if op.path:
                self._settle_names(lambda change: op.path in (_above(change.name), _above(change.old)))
                self._settle_own(op.path)
            case Kind.SYNCED:
                self._open[op.file].settle()
                for name in [name for name, file in self._live.items() if file is self._open[op.file]]:
                    self._settle_own(name)
            case Kind.RENAMED if self._live[op.path] is _A_FOLDER:
                raise NotImplementedError("a folder was renamed: this replay does not know how to follow that")
            case Kind.RENAMED:
                self._change(_Change(op.other, self._live[op.path], old=op.path))
            case Kind.LINKED if op.path in self._live:  # not so for SQLite's -shm file, which is not followed
                self._change(_Change(op.other, self._live[op.path]))
            case Kind.UNLINKED if op.path in self._live:  # likewise
                self._change(_Change(op.path, None))
            case Kind.MADE:
                self._change(_Change(op.path, _A_FOLDER, new=True))
            case Kind.MARKED:
                self.acknowledged += op.data.decode().splitlines()
            case _:
                pass

    def _change(self, change: _Change) -> None:
        _put(self._live, change)
        self._changes.append(change)

    def _settle_own(self, name: str) -> None:
        """The fsync of a file or folder covers its own new name, and the new folders above it, where that is so."""
        if self._folders is Folders.LENIENT:
            own = {name, *_all_above(name)}
            self._settle_names(lambda change: change.new and change.name in own)

    def _settle_names(self, covered: Callable[[_Change], bool]) -> None:
        for change in filter(covered, self._changes):
            _put(self._sure, change)
        self._changes = [change for change in self._changes if not covered(change)]

    def now(self) -> dict[str, bytes]:
        """The files as the running program sees them here."""
        return {name: file.content() for name, file in self._live.items() if file is not _A_FOLDER}

    def cut(self, rng: random.Random) -> Remains:
        """One of the many states that a cut here could leave, chosen by `rng`."""
        names = dict(self._sure)
        keep = rng.choice((0.0, 0.5, 1.0))
        for change in self._changes:
            if rng.random() < keep or (keep == 1.0):
                _put(names, change)
        there = {
            name: file for name, file in names.items() if all(names.get(up) is _A_FOLDER for up in _all_above(name))
        }
        remains = {id(file): left(file, rng) for file in there.values() if file is not _A_FOLDER}
        files = {name: remains[id(file)] for name, file in there.items() if file is not _A_FOLDER}
        return Remains(tuple(sorted(name for name, file in there.items() if file is _A_FOLDER)), files)


def _put(names: dict[str, File], change: _Change) -> None:
    if change.old:
        names.pop(change.old, None)
    if change.file is None:
        names.pop(change.name, None)
    else:
        names[change.name] = change.file


def _above(name: str) -> str:
    return posixpath.dirname(name) or "."


def _all_above(name: str) -> list[str]:
    above = []
    while name != ".":
        name = _above(name)
        above.append(name)
    return above
