"""What a hundredfold record costs: pages, questions, check, backup, reading ahead, start with 10³, 10⁴, 10⁵ casts.

    python -m tests.benchmarks.long_record [--short]

Each station is a process of its own with a record that its own check finds whole (`grown`). Pages are asked for over
loopback by one client: the station's processor time for each, which a busy machine changes little, and the median time
until the answer was there. Beside them a page that looks nothing up. Check, backup and reading ahead are
processes of the command's own. With --short the longest record has 10,000 casts.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import closing
from http.client import HTTPConnection
from pathlib import Path

from tests.benchmarks.grown import grown
from tests.benchmarks.process import ROOT, as_installed, cpu_s
from tests.benchmarks.table import Figure, told
from tests.ports import free_port

SIZES = (1_000, 10_000, 100_000)
TRIES = 15
PAGE_MS, GROWTH, START_S = 50.0, 1.5, 2.0
WAITS_S = 120.0
ALONE = "/pair"
"""A page that asks neither the record nor the bench for anything: the floor below every page."""


def pages(casts: int) -> dict[str, str]:
    """What a person looks at, by its name."""
    return {
        "the floor: a page without a question": ALONE,
        "log, first page": "/log",
        "log, a deep page": f"/log?before={casts // 2}",
        "log, a mold": "/log?mold=mold-7",
        "log, a word of many": "/log?search=wrenfield",
        "log, a lot": f"/log?search=wf-a-{casts // 100:05}",
        "log, a month": "/log?since=2026-03-05&until=2026-04-04",
        "log, no such word": "/log?search=nowhere",
        "a cast": f"/log/{casts // 2}",
        "a cast, JSON": f"/log/{casts // 2}.json",
        "bench": "/",
        "molds": "/molds",
        "stock": "/stock",
        "record": "/record",
        "new cast": "/new",
        "charts": "/charts",
    }


def command(settings: Path, *words: str) -> float:
    """Seconds that a command of the station takes, from its start to its end."""
    began = time.perf_counter()
    run = subprocess.run(
        [sys.executable, "-m", "station", *words, "--config", settings],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        env=as_installed(),
    )
    if run.returncode:
        raise RuntimeError(f"{words}: {run.stdout}{run.stderr}")
    return time.perf_counter() - began


class Served:
    """A station over this folder as a process of its own, from `with` on; `first_s`: from its start to a first page."""

    def __init__(self, folder: Path) -> None:
        self.port, self.settings = free_port(), folder / "station.toml"
        self._asked = 0
        self.settings.write_text(
            f'state_dir = "{folder}/state"\n[scale]\nport = "{folder}/scale"\nfamily = "status-commas"\n'
            f'[web]\nhost = "127.0.0.1"\nport = {self.port}\n[climate]\nsensor = "none"\nhumidity = false\n'
            "[signals]\nspeech = false\n"
        )

    def __enter__(self) -> Served:
        began = time.perf_counter()
        self._run = subprocess.Popen(
            [sys.executable, "-m", "station", "run", "--config", self.settings],
            cwd=ROOT,
            stderr=subprocess.DEVNULL,
            env=as_installed(),
        )
        while True:
            try:
                self.get("/")
                break
            except OSError:
                if time.perf_counter() - began > WAITS_S or self._run.poll() is not None:
                    self._run.kill()
                    raise
                time.sleep(0.01)
        self.first_s = time.perf_counter() - began
        self.pid = self._run.pid
        return self

    def __exit__(self, *_: object) -> None:
        self._run.terminate()
        self._run.wait(WAITS_S)

    def get(self, place: str) -> tuple[int, float]:
        """Status of what the station answers, and the seconds until all of it was there. Raises OSError.

        Each question comes from an address of its own: one alone may not ask so often.
        """
        self._asked += 1
        source = (f"127.0.{self._asked // 250 % 200 + 10}.{self._asked % 250 + 1}", 0)
        began = time.perf_counter()
        with closing(HTTPConnection("127.0.0.1", self.port, timeout=60, source_address=source)) as wire:
            wire.request("GET", place)
            answer = wire.getresponse()
            answer.read()
        return answer.status, time.perf_counter() - began

    def asked_ms(self, place: str) -> tuple[float, float] | None:
        """Of some tries: mean processor time, median until the answer; None where the station has no such page."""
        status, _ = self.get(place)
        if status == 404:
            return None
        before = cpu_s(self.pid)
        took = [self.get(place) for _ in range(TRIES)]
        worked = cpu_s(self.pid) - before
        if bad := [status for status, _ in took if status != 200]:
            raise RuntimeError(f"{place}: {bad[0]}")
        return worked / TRIES * 1000, statistics.median(seconds for _, seconds in took) * 1000


def quiet(pid: int) -> None:
    """Wait until the chores of the start are done: until the process has used next to nothing for a second."""
    before, now = -1.0, cpu_s(pid)
    while not 0 <= now - before < 0.1:
        time.sleep(1.0)
        before, now = now, cpu_s(pid)


def sized(folder: Path, casts: int) -> dict[str, float]:
    """Milliseconds for each page with so many casts, and seconds for the rest."""
    folder.mkdir()
    place = grown(folder / "state", casts)
    served = Served(folder)
    found = {"the record, MB": place.stat().st_size / 1e6}
    found["s: check (verify)"] = command(served.settings, "verify")
    found["s: read ahead, for a new version"] = command(served.settings, "read-ahead")
    found["s: backup, packed and read back"] = command(served.settings, "backup")
    with served:
        found["s: start to first page"] = served.first_s
        quiet(served.pid)
        for name, page in pages(casts).items():
            if (took := served.asked_ms(page)) is not None:
                found[f"page: {name}"], found[f"until: {name}"] = took
    return found


def measured(short: bool) -> Iterator[Figure]:
    sizes = SIZES[:2] if short else SIZES
    with tempfile.TemporaryDirectory(dir="/var/tmp") as room:
        each = [sized(Path(room) / str(casts), casts) for casts in sizes]
    first, last = each[0], each[-1]
    for name in (name for name in first if not name.startswith("until")):
        ratio = last[name] / first[name]
        told = ", ".join(f"{one[name]:.3g}" for one in each)
        goal, kept = "", None
        if name.startswith("page"):
            until = name.replace("page", "until", 1)
            told += f" ms of work; there after {', '.join(f'{one[until]:.3g}' for one in each)} ms"
            goal, kept = f"≤ {PAGE_MS:g} ms, × {GROWTH}", last[until] <= PAGE_MS and ratio <= GROWTH
        elif "start" in name:
            goal, kept = f"≤ {START_S:g} s", last[name] <= START_S
        elif any(word in name for word in ("check", "backup", "read ahead")):
            goal, kept = f"at most linear (× {sizes[-1] // sizes[0]})", ratio <= sizes[-1] / sizes[0]
        casts = ", ".join(f"{count:,}" for count in sizes)
        yield Figure(f"{name}, with {casts} casts", told, f"× {ratio:.2f}", goal, kept)


if __name__ == "__main__":
    told(measured)
