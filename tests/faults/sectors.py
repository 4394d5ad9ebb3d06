"""What a power cut leaves of one file's content: sectors of 512 bytes that each hold some state they once had."""

from __future__ import annotations

import random
from dataclasses import dataclass, field
from typing import Final

SECTOR: Final = 512


@dataclass(slots=True)
class File:
    """A file. `sure` is on the disk; `later` may be: (position, bytes) written, or (size, None) for a new size."""

    sure: bytearray = field(default_factory=bytearray)
    later: list[tuple[int, bytes | None]] = field(default_factory=list)

    def content(self) -> bytes:
        """What a program reads while the power is on."""
        now = bytearray(self.sure)
        for at, data in self.later:
            _apply(now, at, data)
        return bytes(now)

    def settle(self) -> None:
        """An fsync has ended: all of it is on the disk."""
        for at, data in self.later:
            _apply(self.sure, at, data)
        self.later.clear()


def _apply(content: bytearray, at: int, data: bytes | None) -> None:
    if data is None:
        del content[at:]
        content.extend(bytes(at - len(content)))
        return
    if at > len(content):
        content.extend(bytes(at - len(content)))
    content[at : at + len(data)] = data


def left(file: File, rng: random.Random) -> bytes:
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
