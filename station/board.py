"""Board: the one door out of the bench. Holds the latest snapshot; readers wait here for a newer one."""

from __future__ import annotations

import threading
from collections.abc import Callable

from station.core.snapshot import Snapshot


class Board:
    """One writer (the loop), any number of readers."""

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self._latest: Snapshot | None = None

    def post(self, snapshot: Snapshot) -> None:
        """Replace the snapshot and wake all who wait."""
        with self._changed:
            self._latest = snapshot
            self._changed.notify_all()

    def latest(self) -> Snapshot | None:
        """The latest snapshot; None before the first."""
        with self._changed:
            return self._latest

    def wake(self) -> None:
        """Have all who wait look whether they still want to."""
        with self._changed:
            self._changed.notify_all()

    def newer_than(self, seq: int, timeout_s: float, unless: Callable[[], bool] = lambda: False) -> Snapshot | None:
        """The first snapshot after number `seq`; None when none came in time, or as soon as `unless` is true (`wake`).

        `unless` is asked under the board's lock: it may look at a flag, no more.
        """
        with self._changed:
            self._changed.wait_for(lambda: (self._latest is not None and self._latest.seq > seq) or unless(), timeout_s)
            return self._latest if self._latest is not None and self._latest.seq > seq else None
