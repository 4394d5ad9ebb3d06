"""The disk as a power cut leaves it, made from a log of what a program did (shim.Log). Pure: nothing is written here.

What a cut leaves of a file: all that a finished fsync covered; of everything later, each sector of 512 bytes may hold
any state it once had, and the size any it once had. So a write can be there, be dropped, be torn between sectors, or
come before an earlier one. Bytes inside the size that were never written are zero.

What a cut leaves of a folder: changes that a finished fsync of the folder covered; each later one is there or not. A
renamed file has its old name or its new one. `Folders` says whether the fsync of a file covers its own new name too.
Finer than a sector nothing is torn, and a disk that lies about fsync is beyond any program.
"""

from __future__ import annotations

import posixpath
import random
from collections.abc import Callable
from dataclasses import dataclass, field
from enum import Enum
from typing import Final

from tests.faults.shim import Kind, Log, Op

SECTOR: Final = 512


class Folders(Enum):
    """How names in folders reach the disk."""

    STRICT = "only by an fsync of the folder"
    LENIENT = "by an fsync of the folder; a new file's or folder's name also by an fsync of what it holds"


@dataclass(slots=True)
class _File:
    """`sure` is on the disk; `later` may be: (position, bytes) written, or (size, None) for a new size."""

    sure: bytearray = field(default_factory=bytearray)
    later: list[tuple[int, bytes | None]] = field(default_factory=list)

    def content(self) -> bytes:
        now = bytearray(self.sure)
        for at, data in self.later:
            _apply(now, at, data)
        return bytes(now)

    def settle(self) -> None:
        for at, data in self.later:
            _apply(self.sure, at, data)
        self.later.clear()


@dataclass(frozen=True, slots=True)
class _Change:
    """A folder's change: `name` stands for `file` from now on (None: for nothing), and `old` no longer does."""

    name: str
    file: _File | None
    old: str = ""
    new: bool = False


@dataclass(frozen=True, slots=True)
class Remains:
    """What a cut left: the folders and the files with their content, by paths relative to the watched folder."""

    folders: tuple[str, ...]
    files: dict[str, bytes]


_A_FOLDER: Final = _File()


class Disk:
    """Plays a log forward. `cut` tells what a power cut at this place could leave; it changes nothing."""

    def __init__(self, log: Log, folders: Folders) -> None:
        self._ops, self._folders, self.place = log.ops, folders, 0
        self._live: dict[str, _File] = {name: _File(bytearray(data)) for name, data in log.before.items()}
        self._live |= dict.fromkeys(log.folders, _A_FOLDER)
        self._sure = dict(self._live)
        self._changes: list[_Change] = []
        self._open: dict[int, _File] = {}
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
                    self._change(_Change(op.path, _File(), new=True))
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
            case Kind.LINKED:
                self._change(_Change(op.other, self._live[op.path]))
            case Kind.UNLINKED if op.path in self._live:  # not so for SQLite's -shm file, which is not followed
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
        left = {id(file): _left(file, rng) for file in there.values() if file is not _A_FOLDER}
        files = {name: left[id(file)] for name, file in there.items() if file is not _A_FOLDER}
        return Remains(tuple(sorted(name for name, file in there.items() if file is _A_FOLDER)), files)


def _put(names: dict[str, _File], change: _Change) -> None:
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


def _apply(content: bytearray, at: int, data: bytes | None) -> None:
    if data is None:
        del content[at:]
        content.extend(bytes(at - len(content)))
        return
    if at > len(content):
        content.extend(bytes(at - len(content)))
    content[at : at + len(data)] = data


def _left(file: _File, rng: random.Random) -> bytes:
    """The file's content after a cut: first a moment up to which all got through, then for each sector any state."""
    if not file.later:
        return bytes(file.sure)
    now, later = bytearray(file.sure), list(file.later)
    match rng.randrange(4):
        case 0:
            return bytes(now)
        case 1:  # in order up to some write, which may be torn
            through = rng.randint(0, len(later))
            torn = later[through : through + 1]
            for at, data in later[:through]:
                _apply(now, at, data)
            for at, data in torn:
                _apply(now, at, data if data is None else data[: _to_sector(at, rng.randint(0, len(data)))])
            return bytes(now)
        case 2:  # any order
            return _mixed(now, later, rng, rng.random())
        case _:  # nearly everything
            return _mixed(now, later, rng, rng.choice((0.02, 0.98)))


def _mixed(now: bytearray, later: list[tuple[int, bytes | None]], rng: random.Random, newest: float) -> bytes:
    """Each sector is as new as it can be with chance `newest`, else in any earlier state; likewise the size."""
    sizes, states = [len(now)], dict[int, list[bytes]]()

    def note(sector: int) -> None:
        states[sector].append(bytes(now[sector * SECTOR : (sector + 1) * SECTOR]))

    for at, data in later:
        size = len(now)
        touched = list(_sectors(at, max(size, at) if data is None else at + len(data)))
        for sector in touched:
            if sector not in states:
                states[sector] = []
                note(sector)
        _apply(now, at, data)
        for sector in touched:
            note(sector)
        sizes.append(len(now))

    def chosen(history: list[bytes] | list[int]) -> int:
        return len(history) - 1 if rng.random() < newest else rng.randrange(len(history))

    size = sizes[chosen(sizes)]
    del now[size:]
    now.extend(bytes(size - len(now)))
    for sector, history in states.items():
        state = history[chosen(history)].ljust(SECTOR, b"\0")
        room = max(0, min(SECTOR, size - sector * SECTOR))
        now[sector * SECTOR : sector * SECTOR + room] = state[:room]
    return bytes(now)


def _sectors(start: int, end: int) -> range:
    return range(start // SECTOR, -(-end // SECTOR))


def _to_sector(at: int, length: int) -> int:
    """The largest part of a write of `length` bytes at `at` that ends between two sectors, or all of it when none."""
    return max(0, (at + length) // SECTOR * SECTOR - at)
