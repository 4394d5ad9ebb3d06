"""What an installation tells: in the terminal, and with all that its commands said in a file of its own.

A file, because the journal of a Raspberry Pi is in memory; in /var/log, because that is where one looks.
"""

from __future__ import annotations

import contextlib
import os
from pathlib import Path

_MOST_BYTES = 2_000_000


class Log:
    """`file` None, or one that cannot be written: the terminal alone. Only the administrator reads it."""

    def __init__(self, file: Path | None) -> None:
        self._file = file

    def tell(self, words: str) -> None:
        """For the person; a terminal that has gone away must not end anything."""
        with contextlib.suppress(OSError):
            print(words, flush=True)
        self.note(words)

    def note(self, words: str) -> None:
        """For whoever looks later."""
        if self._file is None:
            return
        with contextlib.suppress(OSError):
            many = self._file.exists() and self._file.stat().st_size > _MOST_BYTES
            flags = os.O_WRONLY | os.O_CREAT | (os.O_TRUNC if many else os.O_APPEND)
            with os.fdopen(os.open(self._file, flags, 0o600), "a", encoding="utf-8") as out:
                out.write(f"{words}\n")
