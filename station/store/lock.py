"""The station's lock: two stations must not write one record."""

from __future__ import annotations

import errno
import fcntl
import logging
import os
from pathlib import Path
from typing import Final

from station.errors import LedgerFault
from station.keeping import make_folder
from station.store.faults import RecordHeld, told_as_faults
from station.texts import t

log = logging.getLogger("tarebell.record")

_WRONG_PLACE: Final = frozenset(
    {errno.ENOTDIR, errno.EEXIST, errno.ENOENT, errno.EACCES, errno.EPERM, errno.EISDIR, errno.ELOOP}
)


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
                t("Another station already runs on {folder}.", folder=path.parent),
                t("Stop that one first, or give this one a state folder of its own."),
            ) from None

    def release(self) -> None:
        """Let go; twice is no harm."""
        if self._descriptor is not None:
            os.close(self._descriptor)
            self._descriptor = None


def lock_if_possible(path: Path) -> StationLock | None:
    """The lock at `path`; None where the disk does not even take its file: there nobody else writes either.

    Raises LedgerFault when another station holds it, or the folder cannot be one.
    """
    try:
        with told_as_faults(path.parent):
            make_folder(path.parent)
            return StationLock(path)
    except LedgerFault as fault:
        # A wrong path in the settings must be said; a full or spoiled card must not stop the bench.
        if not isinstance(fault.__cause__, OSError) or fault.__cause__.errno in _WRONG_PLACE:
            raise
        log.error("no lock why=%s", fault)
        return None


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
