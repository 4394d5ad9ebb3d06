"""The station's clock: boot-time seconds, which boot, wall time, and whether there is evidence for the wall time.

A Pi has no battery clock. After a power cut it goes on from a time that was saved to the card, which looks
plausible and may be hours behind, so a plausible year proves nothing. What counts as evidence:

- the mark that the time service leaves in /run once it has heard a time server in this boot, or
- a battery clock from which the kernel set the time at boot, and which agreed with the wall when we started, or
- a person who has told this station the time. Then the wall is boot-time seconds and what was told; the machine's own
  clock is not set, for which the service has no right. Once one of the first two is there, it outdoes the hand.

Why a file and no call: the mark is made by the very program that heard the server, after it has set the clock, and
/run is empty after each boot. The message bus has no better word: its "synchronized" is the kernel's own flag read
again, which any program can set, and which does not say that a server was heard. So neither adjtimex nor the bus is
asked. Another time service can leave a mark of its own, by a unit
ordered after `time-sync.target` that touches a file in /run: hand in its path (`[time] mark` of the settings).
"""

from __future__ import annotations

import os
import time
import uuid
from datetime import UTC, datetime
from pathlib import Path

from station.config import SYNC_MARK
from station.core.moment import Moment
from station.core.walls import wall_at

BOOT_ID = Path("/proc/sys/kernel/random/boot_id")
BATTERY_CLOCKS = Path("/sys/class/rtc")
AGREES_WITHIN_S = 120.0
LOOKS_EVERY_S = 1.0
"""How often the mark is looked for. Each line of the scale asks for the time, and after the pause between two lines the
look alone took 0.03 of the 0.45 ms from the line to its reading."""
_BOOT_CLOCK: int = getattr(time, "CLOCK_BOOTTIME", time.CLOCK_MONOTONIC)


class SystemClock:
    """`ports.TimeSource` on the machine's own clocks. Wall steps never touch the boot-time seconds."""

    def __init__(
        self, sync_mark: Path = SYNC_MARK, boot_id: Path = BOOT_ID, battery_clocks: Path = BATTERY_CLOCKS
    ) -> None:
        self._sync_mark = sync_mark
        self._boot_id = _read(boot_id) or f"process-{uuid.uuid4()}"
        self._trusted = _battery_clock_agrees(battery_clocks, time.time())
        self._look_at_s = 0.0
        self._told_s: float | None = None

    def now(self) -> Moment:
        """This instant. Once there is evidence for the wall time it stays trusted until the process ends."""
        boot_s, told_s = time.clock_gettime(_BOOT_CLOCK), self._told_s
        if not self._trusted and boot_s >= self._look_at_s:
            self._look_at_s = boot_s + LOOKS_EVERY_S
            self._trusted = os.access(self._sync_mark, os.F_OK)  # no right to look is no evidence
        if told_s is not None and not self._trusted:
            return Moment(boot_s, self._boot_id, wall_at(told_s, boot_s), trusted=True, by_hand=True)
        return Moment(boot_s, self._boot_id, datetime.now(UTC), self._trusted)

    def told(self, offset_s: float) -> None:
        """A person says that 1970 (UTC) lies `offset_s` seconds before boot-time zero. For this boot and process."""
        self._told_s = offset_s


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
