"""What the page of the record is given: how the record fares, its backups, and what may be done about it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Protocol

LITTLE_SPACE = 200 * 1024 * 1024
"""Bytes free on the card; from here on somebody should make room."""


@dataclass(frozen=True, slots=True)
class BackupLine:
    """One backup: when it was made (UTC; `sure` of that), its journal rows, its size in bytes, the occasion."""

    name: str
    made: datetime
    sure: bool
    rows: int
    size: int
    why: str


@dataclass(frozen=True, slots=True)
class RecordView:
    """How the record fares. `damage` and `rescue` are sentences, empty while it is whole.

    `unsaved` entries wait in memory. `restored` tells of a restoring that nobody has confirmed. `free` are bytes free
    on the card, `written` bytes written by this run on each day, today first. `left` says when a copy last left the
    card and where to; `left_at` (UTC) only when.
    """

    damage: str
    rescue: str
    unsaved: int
    restored: str
    backups: Sequence[BackupLine]
    left: str
    checked: str
    free: int | None
    written: Sequence[tuple[date, int]]
    left_at: datetime | None = None


class RecordDesk(Protocol):
    """Called from many threads. Every refusal is a StationError."""

    def view(self) -> RecordView:
        """How the record fares now."""
        ...

    def back_up(self, by: str) -> str:
        """Make a backup now and copy it away; what came of it, in a sentence."""
        ...

    def restore(self, by: str) -> str:
        """Restore the damaged record; what came of it, in a sentence."""
        ...

    def taken(self, name: str, by: str) -> Path:
        """The file of a backup that somebody downloads; it counts as a copy that left the card."""
        ...
