"""The witness: a note beside the record of how far its journal has come, for the day when its end goes missing.

A record whose write-ahead log was lost or exchanged opens without complaint and is simply shorter. The note is
written after each commit, without waiting for the disk: it may lag behind the record, never run ahead of it.
"""

from __future__ import annotations

import logging
import os
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from station.keeping import sync

log = logging.getLogger("tarebell.record")
_LENGTH: Final = 160
WITNESS_FILE: Final = "record.end"
"""Its name in the state folder."""


@dataclass(frozen=True, slots=True)
class Seen:
    """The journal began with the row of digest `first` and reached row `seq` of digest `last`."""

    first: str
    seq: int
    last: str


class Witness:
    """One small file, written in place."""

    def __init__(self, file: Path) -> None:
        self._file = file
        self._said = False

    def note(self, seen: Seen) -> None:
        """Note how far the journal has come. A disk that does not take it costs nothing but the note."""
        line = f"{seen.seq} {seen.last} {seen.first}".ljust(_LENGTH - 1) + "\n"
        try:
            descriptor = os.open(self._file, os.O_WRONLY | os.O_CREAT, 0o644)
            try:
                os.pwrite(descriptor, line.encode("ascii"), 0)
            finally:
                os.close(descriptor)
        except OSError as why:
            if not self._said:
                log.warning("no note of the record's end why=%s", why.strerror)
            self._said = True

    def read(self) -> Seen | None:
        """What was noted last; None when nothing readable was."""
        try:
            words = self._file.read_text("ascii").split()
        except (OSError, ValueError):
            return None
        if len(words) != 3 or not words[0].isdigit() or any(len(word) != 64 for word in words[1:]):
            return None
        return Seen(words[2], int(words[0]), words[1])

    def settle(self) -> None:
        """Put what was noted on the disk, where anything was. Raises OSError."""
        if self._file.is_file():
            sync(self._file)
            sync(self._file.parent)

    def forget(self) -> None:
        """The record was replaced: what was noted of the earlier one no longer holds. Raises OSError."""
        self._file.unlink(missing_ok=True)
        sync(self._file.parent)  # or a power cut brings it back, and the new record is called damaged
