"""Bytes that the station has written to its disks, day by day, as the kernel counts them for this process."""

from __future__ import annotations

import threading
from datetime import date
from pathlib import Path
from typing import Final

IO: Final = Path("/proc/self/io")
_DAYS: Final = 30


class Written:
    """Keeps the days of this run. From any thread."""

    def __init__(self, io: Path = IO) -> None:
        self._io = io
        self._lock = threading.Lock()
        self._days: dict[date, int] = {}
        self._last = self._counted() or 0

    def by_day(self, today: date) -> dict[date, int]:
        """Bytes written on each day of this run, newest first; what was written since the last look counts today."""
        with self._lock:
            now = self._counted()
            if now is not None:
                self._days[today] = self._days.get(today, 0) + max(0, now - self._last)
                self._last = now
            for old in sorted(self._days)[:-_DAYS]:
                del self._days[old]
            return dict(sorted(self._days.items(), reverse=True))

    def _counted(self) -> int | None:
        try:
            lines = self._io.read_text("ascii").splitlines()
        except OSError:
            return None
        return next((int(line.split()[1]) for line in lines if line.startswith("write_bytes:")), None)
