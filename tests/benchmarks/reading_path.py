"""From a line's last byte to the parsed reading, to the buzzer's pin and to a page, whatever the station is busy with.

    python -m tests.benchmarks.reading_path [--short]

The station is a process of its own on the machine's own clock; so is whoever has the page open. First the floors, in
this run: the same poll and read on the same kind of terminal by a process that does nothing else, and a bare call of
the pin. Then lines at each rate, each with a weight of its own, that tell when a reading was handed in and when a page
had it. Three times a second such a reading calls for a cue: from the reading to the pin. Under each load again. Left
out: a real port's adapter, a radio network, a slow board.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

from station.simulated.pty_port import PtyPort
from tests.benchmarks.grown import grown
from tests.benchmarks.mesh_million import stl_fast
from tests.benchmarks.process import ROOT
from tests.benchmarks.rig import Rig, at
from tests.benchmarks.table import Figure, told
from tests.mesh.bodies import torus

RATES_HZ = (10, 50, 200)
CASTS = 1000
CUE_S = 0.3
READING_OF_FLOOR, PIN_P50_MS, PIN_P99_MS, LOADED_P99_MS = 1.3, 1.0, 5.0, 20.0


@dataclass(frozen=True, slots=True)
class Load:
    """How busy the station is: phones with an open page, pages asked for, a job inside it, what each sync takes (s)."""

    name: str
    phones: int = 1
    pages: tuple[str, ...] = ()
    job: str = ""
    slow_s: float = 0.0


LOADS = (
    Load("idle"),
    Load("50 open pages", phones=50),
    Load("pages of the log are asked for without a pause", pages=("/log", "/log/500", "/log?search=wrenfield")),
    Load("a mesh of a million facets is measured", job="mesh"),
    Load("a backup is made", job="backup"),
    Load("the record is checked", job="check"),
    Load("an export is made", job="export"),
    Load("a disk that takes 0.25 s to sync", slow_s=0.25),
)


def python(module: str, *arguments: object) -> subprocess.Popen[str]:
    """A process of its own that reads its input until that ends; returns once it has said that it is there."""
    run = subprocess.Popen(
        [sys.executable, "-m", f"tests.benchmarks.{module}", *map(str, arguments)],
        cwd=ROOT,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert run.stdout is not None
    run.stdout.readline()
    return run


def sent(port: PtyPort, rate_hz: int, seconds: float, first: int) -> dict[int, float]:
    """Moving lines at this rate, each a tenth of a gram more; when each weight in mg went out."""
    out: dict[int, float] = {}
    begun_s = time.perf_counter()
    for number in range(int(seconds * rate_hz)):
        time.sleep(max(0.0, begun_s + number / rate_hz - time.perf_counter()))
        tenths = first + number
        line = f"US,+{tenths // 10:06d}.{tenths % 10}  g\r\n".encode()
        out[tenths * 100] = time.perf_counter()
        port.emit(line)
    return out


def floors(folder: Path, seconds: float) -> dict[int, list[float]]:
    """Seconds from writing a line to having read it raw, at each rate."""
    found = {}
    with PtyPort(folder / "floor") as port:
        for rate_hz in RATES_HZ:
            run = python("raw_reader", port.path)
            out = sent(port, rate_hz, seconds, 100)
            told, _ = run.communicate(timeout=30)
            arrived = json.loads(told)
            assert len(arrived) == len(out), "the floor lost lines"
            found[rate_hz] = sorted(there - here for here, there in zip(out.values(), arrived, strict=True))
    return found


@contextmanager
def loaded(rig: Rig, load: Load, mesh: Path) -> Iterator[subprocess.Popen[str]]:
    """The station so busy, and the phones that look on."""
    if load.slow_s:
        rig.order("slow", load.slow_s)
    phones = python("crowd", urlsplit(rig.url).port, load.phones)
    asker = python("asker", urlsplit(rig.url).port, *load.pages) if load.pages else None
    if load.job:
        rig.order("busy", load.job, str(mesh))
    try:
        yield phones
    finally:
        if asker is not None and not int(asker.communicate(timeout=60)[0]):
            raise RuntimeError(f"{load.name}: not one came")
        if load.job and not rig.order("calm"):
            raise RuntimeError(f"{load.name}: not one round came to its end")


def ms(found: list[float], part: float) -> float:
    return at(found, part) * 1000


def spread(found: list[float]) -> str:
    return f"p50 {ms(found, 0.5):.2f}, p99 {ms(found, 0.99):.2f}, max {found[-1] * 1000:.1f} ms"


def figures(load: Load, rig: Rig, mesh: Path, floor: dict[int, list[float]], seconds: float) -> Iterator[Figure]:
    """All rates under one load, while a cast waits for its cup: what never rests is none and calls for no other cue."""
    idle = load is LOADS[0]
    bare = rig.order("timed")
    rig.stand(0.0, 20)
    rig.order("begin")
    first, seen, pins = 1000, {}, {}
    with loaded(rig, load, mesh) as phones:
        for rate_hz in RATES_HZ:
            rig.order("mark", round(rate_hz * CUE_S) * 100)
            rig.order("noted")
            out = sent(rig.port, rate_hz, seconds, first)
            time.sleep(0.6)
            first += len(out) + 100
            noted = rig.order("noted")
            seen[rate_hz], pins[rate_hz] = (out, dict(noted["readings"])), sorted(noted["pins"])
        rig.order("mark", 0)
        shown, _ = phones.communicate(timeout=30)
    pages = {int(mg): read_s for mg, read_s in json.loads(shown)["first"].items()}
    for rate_hz in RATES_HZ:
        out, readings = seen[rate_hz]
        took = sorted(readings[mg] - out[mg] for mg in out if mg in readings)
        page = sorted(pages[mg] - out[mg] for mg in out if mg in pages)
        of_floor = at(took, 0.5) / at(floor[rate_hz], 0.5)
        name = f"{load.name}, {rate_hz} lines a second"
        yield Figure(
            f"{name}: line to reading",
            f"{spread(took)}, {len(took)} of {len(out)}",
            f"p50 × {of_floor:.2f}, p99 × {at(took, 0.99) / at(floor[rate_hz], 0.99):.2f}",
            f"p50 ≤ {READING_OF_FLOOR} × floor" if idle else f"p99 ≤ {LOADED_P99_MS:g} ms",
            of_floor <= READING_OF_FLOOR if idle else ms(took, 0.99) <= LOADED_P99_MS,
        )
        rose = pins[rate_hz]
        yield Figure(
            f"{name}: reading to pin",
            f"{spread(rose)}, n {len(rose)}",
            f"p50 {at(rose, 0.5) / bare:.0f} pin calls",
            f"p50 ≤ {PIN_P50_MS:g}, p99 ≤ {PIN_P99_MS:g} ms" if idle else f"p99 ≤ {LOADED_P99_MS:g} ms",
            ms(rose, 0.5) <= PIN_P50_MS and ms(rose, 0.99) <= PIN_P99_MS if idle else ms(rose, 0.99) <= LOADED_P99_MS,
        )
        yield Figure(
            f"{name}: line to page",
            f"p50 {ms(page, 0.5):.1f}, p99 {ms(page, 0.99):.1f} ms, n {len(page)}",
            f"p50 × {at(page, 0.5) / at(floor[rate_hz], 0.5):.0f}",
        )


def measured(short: bool) -> Iterator[Figure]:
    seconds = 4.0 if short else 30.0
    with ExitStack() as stack:
        folder = Path(stack.enter_context(tempfile.TemporaryDirectory(dir="/var/tmp")))
        mesh = folder / "part.stl"
        mesh.write_bytes(stl_fast(*torus(60.0, 20.0, 1000, 500)))
        floor = floors(folder, seconds)
        for rate_hz, took in floor.items():
            yield Figure(
                f"floor, {rate_hz} lines a second: raw poll and read",
                f"p50 {ms(took, 0.5):.2f}, p99 {ms(took, 0.99):.2f} ms",
            )
        for number, load in enumerate(LOADS):
            own = folder / str(number)
            own.mkdir()
            if load.pages or load.job in ("backup", "check", "export"):
                grown(own / "state", CASTS)
            with Rig(own) as rig:
                yield from figures(load, rig, mesh, floor, seconds)


if __name__ == "__main__":
    told(measured)
