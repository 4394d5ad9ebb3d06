"""What the service costs: start, memory, threads and processor, idle and weighing, on its first day and after it.

    python -m tests.benchmarks.service_cost [--short]

The service as a process of its own on the machine's own clock, with a scale on a pseudo-terminal. The floor of start
and memory is a bare interpreter; that of the processor is the same time with the scale silent. "After a day": 20 casts
are weighed, mixed, poured and cured, clocks leap, and after each all main pages are looked at. With --short two casts.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path

from station.housekeeping import GIVES_BACK_S
from tests.benchmarks.process import cpu_s, resident_mb, threads
from tests.benchmarks.reading_path import python
from tests.benchmarks.rig import Rig
from tests.benchmarks.table import Figure, at_most, told

MEMORY_MB, START_S, IDLE_PERCENT, WEIGHING_PERCENT = 80.0, 1.5, 0.5, 3.0
SETTLES_S = GIVES_BACK_S + 5.0
PAGES = ("", "curing", "log", "work", "new", "molds", "materials", "stock", "record", "scale", "station", "benches")


def bare() -> tuple[float, float]:
    """Seconds until a bare interpreter has said a word, and the MB that it then holds."""
    began = time.perf_counter()
    run = subprocess.Popen(
        [sys.executable, "-c", "print(1, flush=True); input()"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert run.stdout is not None
    run.stdout.readline()
    took, held = time.perf_counter() - began, resident_mb(run.pid)
    run.communicate("\n")
    return took, held


def page(url: str) -> int:
    """Bytes of a page; none where there is no such page."""
    try:
        with urllib.request.urlopen(url, timeout=30) as answer:
            return len(answer.read())
    except urllib.request.HTTPError as no:
        if no.code in (404, 429):
            return 0
        raise


def started(rig: Rig) -> tuple[float, float]:
    """Seconds from the start to the first page, and of processor time."""
    began = time.perf_counter()
    rig.start()
    page(rig.url)
    return time.perf_counter() - began, cpu_s(rig.run.pid)


def percent(rig: Rig, seconds: float, line: bytes = b"") -> float:
    """Of one processor, over so many seconds; with `line` sent ten times a second."""
    before, end = cpu_s(rig.run.pid), time.perf_counter() + seconds
    began = time.perf_counter()
    while time.perf_counter() < end:
        if line:
            rig.port.emit(line)
        time.sleep(0.1)
    return (cpu_s(rig.run.pid) - before) / (time.perf_counter() - began) * 100


def cast(rig: Rig) -> None:
    """One cast from its cup to the end of its cure, and then a look at every page."""
    rig.stand(0.0, 15)
    number = rig.order("begin")
    load = rig.pour_all()
    rig.order("leap")
    rig.put(load, "MIX_ENOUGH")
    while rig.order("where")[0] not in ("Cure", ""):
        rig.order("press")
        rig.stand(0.0, 2)
    for _ in range(2):
        rig.order("leap")
        rig.stand(0.0, 25)
        rig.order("answer", number)
    for name in PAGES:
        page(f"{rig.url}{name}")


def measured(short: bool) -> Iterator[Figure]:
    seconds, casts = (10.0, 2) if short else (60.0, 20)
    floor_s, floor_mb = bare()
    with tempfile.TemporaryDirectory(dir="/var/tmp") as folder:
        rig = Rig(Path(folder))
        rig.port.plug_in()
        rig.start()  # the very first start also makes the record, and keeps for its life what that has loaded
        rig.run.terminate()
        rig.run.wait(30)
        first_s, work_s = started(rig)
        with rig.adopted():
            yield at_most("start to first page", first_s, START_S, "s", f"{first_s / floor_s:.0f} bare interpreters")
            yield Figure("of it processor time", f"{work_s:.2f} s")
            time.sleep(SETTLES_S)
            held = resident_mb(rig.run.pid)
            yield at_most("memory, idle, no page looked at", held, MEMORY_MB, "MB", f"{held / floor_mb:.1f} bare ones")
            yield Figure("threads", str(threads(rig.run.pid)))
            idle = percent(rig, seconds)
            yield at_most("processor, idle, scale silent", idle, IDLE_PERCENT, "%")
            phone = python("crowd", rig.url.rsplit(":", 1)[1].rstrip("/"), 1)
            weighing = percent(rig, seconds, b"US,+000100.0  g\r\n")
            phone.communicate(timeout=30)
            yield at_most(
                "processor, ten lines a second, one page open",
                weighing,
                WEIGHING_PERCENT,
                "%",
                f"× {weighing / idle:.0f} idle",
            )
            for _ in range(casts):
                cast(rig)
            time.sleep(SETTLES_S)
            after = resident_mb(rig.run.pid)
            yield at_most(
                f"memory after {casts} casts and looks at every page",
                after,
                MEMORY_MB,
                "MB",
                f"× {after / held:.2f} idle",
            )
            yield Figure("threads after it", str(threads(rig.run.pid)))


if __name__ == "__main__":
    told(measured)
