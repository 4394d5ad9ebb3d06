"""Which backups are kept: the last of each of seven days, of each of four weeks, and always the one with most rows."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from pathlib import Path
from typing import Final

from station.store.backup.packing import Backup

DAYS: Final = 7
WEEKS: Final = 4


def newest_first(backups: Sequence[Backup]) -> list[Backup]:
    """By what is in them: the journal only grows, while the clock that dated them may have been wrong."""
    return sorted(backups, key=lambda one: (one.label.rows, one.label.made, one.file.name), reverse=True)


def to_prune(backups: Sequence[Backup]) -> list[Backup]:
    """Those that may go, oldest first, each history by itself. The newest is never among them."""
    histories = {one.label.first for one in backups}
    return [gone for first in sorted(histories) for gone in _of_one_history(backups, first)]


def _of_one_history(backups: Sequence[Backup], first: str) -> list[Backup]:
    ordered = newest_first([one for one in backups if one.label.first == first])
    kept = {one.file for one in ordered[:1]}
    kept |= _last_of_each(ordered, lambda one: one.label.made.date(), DAYS)
    kept |= _last_of_each(ordered, lambda one: one.label.made.isocalendar()[:2], WEEKS)
    return [one for one in reversed(ordered) if one.file not in kept]


def _last_of_each(ordered: Sequence[Backup], span: Callable[[Backup], Hashable], most: int) -> set[Path]:
    last: dict[Hashable, Backup] = {}
    for backup in ordered:
        if len(last) == most:
            break
        last.setdefault(span(backup), backup)
    return {backup.file for backup in last.values()}
