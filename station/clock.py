"""The station's clock: boot-time seconds, which boot, wall time, and whether there is evidence for the wall time.

A Pi has no battery clock. After a power cut it goes on from a time that was saved to the card, which looks
plausible and may be hours behind, so a plausible year proves nothing. What counts as evidence:

- the mark that the time service leaves in /run once it has heard a time server in this boot, or
- a battery clock from which the kernel set the time at boot, and which agreed with the wall when we started.

Another time service can leave a mark of its own: hand in its path.
"""

from __future__ import annotations

import time
import uuid
from datetime import UTC, datetime
from pathlib import Path

from station.core.moment import Moment

SYNC_MARK = Path("/run/systemd/timesync/synchronized")
BOOT_ID = Path("/proc/sys/kernel/random/boot_id")
BATTERY_CLOCKS = Path("/sys/class/rtc")
AGREES_WITHIN_S = 120.0
_BOOT_CLOCK: int = getattr(time, "CLOCK_BOOTTIME", time.CLOCK_MONOTONIC)


class SystemClock:
    """`ports.TimeSource` on the machine's own clocks. Wall steps never touch the boot-time seconds."""

    def __init__(
        self, sync_mark: Path = SYNC_MARK, boot_id: Path = BOOT_ID, battery_clocks: Path = BATTERY_CLOCKS
    ) -> None:
        self._sync_mark = sync_mark
        self._boot_id = _read(boot_id) or f"process-{uuid.uuid4()}"
        self._trusted = _battery_clock_agrees(battery_clocks, time.time())

    def now(self) -> Moment:
        """This instant. Once there is evidence for the wall time it stays trusted until the process ends."""
        if not self._trusted:
            self._trusted = self._sync_mark.exists()
        wall = datetime.fromtimestamp(time.time(), UTC)
        return Moment(time.clock_gettime(_BOOT_CLOCK), self._boot_id, wall, self._trusted)


def _read(path: Path) -> str:
    try:
        return path.read_text("ascii").strip()
    except (OSError, ValueError):
        return ""


def _battery_clock_agrees(folder: Path, wall_s: float) -> bool:
    """Whether the kernel took the time from a battery clock that still says the same.

    A board whose battery clock has no battery starts in 1970 and is then carried forward by the saved
    time: the two disagree, and that is how it is found out.
    """
    for clock in sorted(folder.glob("rtc*")):
        if _read(clock / "hctosys") == "1":
            said = _read(clock / "since_epoch")
            if said.isdigit() and abs(int(said) - wall_s) <= AGREES_WITHIN_S:
                return True
    return False
