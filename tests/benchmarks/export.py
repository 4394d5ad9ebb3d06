"""What taking a log away costs with 1,000, 10,000 and 100,000 casts, and what it costs the bench meanwhile.

    python -m tests.benchmarks.export [--short]

Each export is made as a page has it made: by the process of its own, into a file (`confined/making`). Memory is that
process's peak as the kernel tells it; the station's own is what this process gained. Beside each export goes what the
bench does all the time, an entry written and synced (`SqlLedger.write`, 20 a second): its time is held against the same
before the export. Records are made by `grown`; with --short the longest has 10,000 casts. The yearly archive, whose
papers cost most, is of 100 and 1,000 casts; all of them of one year.
"""

from __future__ import annotations

import os
import sqlite3
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

from station.clock import SystemClock
from station.confined.making import make
from station.core.events import Entry, TemperatureNoted
from station.export_desk.desk import CHILD
from station.export_desk.taking_over import lines_of
from station.store.ledger import SqlLedger
from station.store.log_import import take_over
from tests.benchmarks.grown import grown
from tests.benchmarks.process import resident_mb
from tests.benchmarks.rig import at
from tests.benchmarks.table import Figure, told

SIZES = (1_000, 10_000, 100_000)
YEARS = (100, 1_000)
MOST_MB = 200.0
HOURS = 6 * 3600.0
EVERY_S = 0.05
BEFORE = 60


class Beside:
    """Writes entries as the bench does, from `with` on, and keeps how long each took in seconds."""

    def __init__(self, folder: Path) -> None:
        self._folder, self._over = folder, threading.Event()
        self.took: list[float] = []
        self._thread = threading.Thread(target=self._write)

    def _write(self) -> None:
        clock = SystemClock()
        with SqlLedger(self._folder) as ledger:
            while not self._over.wait(EVERY_S):
                began = time.perf_counter()
                ledger.write([Entry(TemperatureNoted(21.5), clock.now())])
                self.took.append(time.perf_counter() - began)

    def __enter__(self) -> Beside:
        self._thread.start()
        while len(self.took) < BEFORE:
            time.sleep(EVERY_S)
        return self

    def __exit__(self, *_: object) -> None:
        self._over.set()
        self._thread.join()


def made(folder: Path, place: Path, job: dict[str, Any], out: Path) -> tuple[float, dict[str, Any]]:
    """Seconds for it, and what the process said at its end."""
    room = folder / "room"
    room.mkdir(exist_ok=True)
    shop = {"name": "Wrenfield Works", "address": "http://wrenfield.local:8060/", "photos": str(folder / "photos")}
    began = time.perf_counter()
    with out.open("w+b") as file:
        said = make(CHILD, {"place": str(place), "room": str(room), "version": "0", **shop, **job}, file, wall_s=HOURS)
    return time.perf_counter() - began, said


def sized(folder: Path, casts: int) -> dict[str, float]:
    folder.mkdir()
    place = grown(folder / "state", casts)
    before = resident_mb(os.getpid())
    with Beside(folder / "state") as bench:
        undisturbed = sorted(bench.took)
        seconds, said = made(folder, place, {"do": "export"}, folder / "log.zip")
        meanwhile = sorted(bench.took[BEFORE:])
    gained = resident_mb(os.getpid()) - before
    if said["casts"] != casts:
        raise RuntimeError(said)
    began = time.perf_counter()
    with lines_of(folder / "log.zip") as lines:
        done = take_over(lines, folder / "other", SystemClock().now())
    taken = time.perf_counter() - began
    if done.casts != casts:
        raise RuntimeError(done)
    return {
        "export, s": seconds,
        "peak of its process, MB": said["peak_kib"] * 1024 / 1e6,
        "gained by the station's process, MB": gained,
        "its file, MB": (folder / "log.zip").stat().st_size / 1e6,
        "import of it, s": taken,
        "p50": at(meanwhile, 0.5) / at(undisturbed, 0.5),
        "p99": at(meanwhile, 0.99) * 1000,
        "p99 before": at(undisturbed, 0.99) * 1000,
    }


def year(folder: Path, casts: int) -> dict[str, float]:
    folder.mkdir()
    place = grown(folder / "state", casts)
    with closing(sqlite3.connect(place)) as db:
        (found,) = db.execute("SELECT strftime('%Y', max(begun_s), 'unixepoch') FROM casts").fetchone()
    seconds, said = made(folder, place, {"do": "year", "year": int(found)}, folder / "year.zip")
    size = (folder / "year.zip").stat().st_size / 1e6
    return {"s": seconds, "casts": said["casts"], "MB": size, "peak": said["peak_kib"] * 1024 / 1e6}


def measured(short: bool) -> Iterator[Figure]:
    sizes = SIZES[:2] if short else SIZES
    with tempfile.TemporaryDirectory(dir="/var/tmp") as room:
        each = [sized(Path(room) / str(casts), casts) for casts in sizes]
        years = [year(Path(room) / f"year-{casts}", casts) for casts in YEARS]
    first, last, most = each[0], each[-1], sizes[-1] // sizes[0]
    many = ", ".join(f"{casts:,}" for casts in sizes)

    def row(name: str, goal: str = "", kept: bool | None = None) -> Figure:
        figures = ", ".join(f"{one[name]:.3g}" for one in each)
        ratio = f"× {last[name] / first[name]:.3g}" if first[name] else ""
        return Figure(f"{name}, {many} casts", figures, ratio, goal, kept)

    for name in ("export, s", "import of it, s"):
        # Half as much again: the machine is busy with other things, too.
        yield row(name, f"at most linear (× {most})", last[name] / first[name] <= 1.5 * most)
    yield row("its file, MB")
    name = "peak of its process, MB"
    bounded = last[name] <= MOST_MB and last[name] <= 1.5 * first[name]
    yield row(name, f"≤ {MOST_MB:g} MB, the same for any number", bounded)
    yield row("gained by the station's process, MB")
    beside = ", ".join(f"× {one['p50']:.2f} (p99 {one['p99 before']:.0f} → {one['p99']:.0f} ms)" for one in each)
    yield Figure(f"an entry written and synced while it is made, against before, {many} casts", beside)
    a, b = years
    yield Figure(
        "archive of a year with papers, " + ", ".join(f"{one['casts']:.0f}" for one in years) + " casts",
        f"{a['s']:.3g}, {b['s']:.3g} s; {a['MB']:.3g}, {b['MB']:.3g} MB; peak {a['peak']:.0f}, {b['peak']:.0f} MB",
        f"× {b['s'] / a['s']:.3g}",
        "at most linear",
        b["s"] / b["casts"] <= 1.5 * a["s"] / a["casts"],
    )


if __name__ == "__main__":
    told(measured)
