"""Bytes written in a day of 20 casts and 8 h of running clocks; run by hand: python -m tests.benchmarks.day_written

The whole station in this process, from bytes on a pseudo-terminal to the record's file, in lock step: the clock moves
ten times a second while a cast is at the bench, every ten seconds in the rest of the working day, once a minute after
it. Counted by the kernel for this process (`write_bytes`: pages made dirty, 4 KiB each), beside the bytes handed to
write calls.

Accelerated: all time, but for a true minute of idleness at the end. What hangs on true time is left out or done by
hand: the hourly chores are done once, at the end of the day. Also left out: the log, which a service manager keeps in
memory or on the card as it is set, and what the file system adds for its own bookkeeping.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from station.core.alarms import any_runs
from station.core.clocks import ClockKind
from station.core.messages import Acknowledge, Demold
from station.core.snapshot import Snapshot
from station.errors import Refused
from tests.benchmarks.rig import Rig
from tests.faults.month import Month

CASTS = 20
WORK_S = 8 * 3600.0
NIGHT_S = 16 * 3600.0
PROMISED_MB = 20.0
START, WORK, CHORES = "the first start, with a new record", "the working day", "the day's check and backup"
CAST = "of the working day, while a cast is at the bench"
AFTER = "until the last clock has ended"


def counted(process: int | str = "self") -> tuple[int, int]:
    """Bytes that went towards a disk, and bytes handed to write calls, since this process began."""
    lines = dict(line.split(": ") for line in Path(f"/proc/{process}/io").read_text("ascii").splitlines())
    return int(lines["write_bytes"]), int(lines["wchar"])


class WorkingDay(Month):
    """Casts one after another; clocks run on meanwhile, and alarms are answered when they ring."""

    ran_s = 0.0

    def cure(self, faults: float) -> None:
        """Not waited for: the next cast comes first."""

    def frame(self, seconds: float = 0.1) -> Snapshot:
        """One line of the scale; alarms are answered, and the time in which a clock ran is added up."""
        if self.runs():
            self.ran_s += seconds
        seen = super().frame(seconds)
        for alarm in seen.alarms:
            with suppress(Refused):
                self.ask(
                    Demold(alarm.number, "benchmark")
                    if alarm.clock is ClockKind.DEMOLD
                    else Acknowledge(alarm.number, alarm.clock, "benchmark")
                )
        return seen

    def until(self, boot_s: float, every_s: float) -> None:
        """Nothing is done but what rings."""
        while self.clock.now().boot_s < boot_s:
            self.frame(every_s)

    def runs(self) -> bool:
        """Whether any clock still runs."""
        return any_runs(self.station.loop.standing())


@contextmanager
def told(what: str, sums: dict[str, float]) -> Iterator[None]:
    """Print what was written in this part."""
    disk, calls = counted()
    yield
    now_disk, now_calls = counted()
    sums[what] = (now_disk - disk) / 1e6
    print(f"{what:44} {sums[what]:8.3f} MB, {(now_calls - calls) / 1e6:8.3f} MB handed to write calls", flush=True)


def main(casts: int) -> None:
    sys.dont_write_bytecode = True
    sums: dict[str, float] = {}
    # Not in a folder that may lie in memory, where the kernel counts nothing.
    with tempfile.TemporaryDirectory(dir="/var/tmp") as folder:
        day = WorkingDay(Path(folder), seed=1)
        with day.port:
            try:
                hours = _lived(day, casts, sums)
            finally:
                day.stop()
        size = (day.state / "record.db").stat().st_size / 1e6
    promised = sum(sums[part] for part in (START, WORK, CHORES))
    print(f"clocks ran {hours[0]:.2f} h by day and {hours[1]:.2f} h after it, given up {day.happened['given up']}")
    print(f"the record after it all: {size:.2f} MB")
    print(f"the day as promised: {promised:.2f} MB, {promised / PROMISED_MB:.2f} of the {PROMISED_MB:g} MB")
    print(f"for each cast at the bench {sums[CAST] / casts * 1000:.0f} kB")
    print(f"for each hour of clocks without a cast {sums[AFTER] / hours[1] * 1000:.0f} kB")


def idle(lines: int) -> None:
    """A service as a process of its own, on the machine's own clock, with a scale that goes on but no cast."""
    with tempfile.TemporaryDirectory(dir="/var/tmp") as folder, Rig(Path(folder)) as rig:
        rig.stand(0.0, 50)  # the chores at the start are done by then
        before = counted(rig.run.pid)[0]
        rig.stand(0.0, lines)
        print(f"{lines / 10:.0f} true seconds idle, a process of its own: {counted(rig.run.pid)[0] - before} bytes")


def _lived(day: WorkingDay, casts: int, sums: dict[str, float]) -> tuple[float, float]:
    """Live the day and what comes after it; hours in which a clock ran, by day and later."""
    with told(START, sums):
        day.start()
        day.frame()
    begun_s, sums[CAST] = day.clock.now().boot_s, 0.0
    with told(WORK, sums):
        for number in range(casts):
            before = counted()[0]
            day.cast(faults=0.0)
            sums[CAST] += (counted()[0] - before) / 1e6
            day.until(begun_s + (number + 1) * WORK_S / casts, every_s=10.0)
    by_day_s = day.ran_s
    with told(CHORES, sums):
        day.station.record.daily_check()
        day.station.record.back_up("", "daily")
    with told(AFTER, sums):
        while day.runs():
            day.frame(60.0)
    with told("16 h in which no clock runs", sums):
        day.until(day.clock.now().boot_s + NIGHT_S, every_s=60.0)
    return by_day_s / 3600, (day.ran_s - by_day_s) / 3600


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else CASTS)
    idle(lines=600)
