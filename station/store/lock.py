"""The station's lock: two stations must not write one record."""

from __future__ import annotations

import errno
import fcntl
import os
from pathlib import Path

from station.store.faults import RecordHeld


class StationLock:
    """Holds an advisory lock (flock) on a file until it is released or the process ends, however it ends."""

    def __init__(self, path: Path) -> None:
        """Take the lock. Raises RecordHeld when another station holds it, OSError when the file cannot be used."""
        self._descriptor = _descriptor(path)
        if self._descriptor is None:
            return
        try:
            fcntl.flock(self._descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            self.release()
            raise RecordHeld(
                f"Another station already runs on {path.parent}.",
                "Stop that one first, or give this one a state folder of its own.",
            ) from None

    def release(self) -> None:
        """Let go; twice is no harm."""
        if self._descriptor is not None:
            os.close(self._descriptor)
            self._descriptor = None


def _descriptor(path: Path) -> int | None:
    """The open lock file; None on a card that can only be read and has none: there nobody can write anyway."""
    try:
        return os.open(path, os.O_RDWR | os.O_CREAT, 0o644)
    except OSError as why:
        if why.errno != errno.EROFS:
            raise
    try:
        return os.open(path, os.O_RDONLY)
    except FileNotFoundError:
        return None
