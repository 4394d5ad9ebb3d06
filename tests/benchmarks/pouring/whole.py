"""The whole station and people on pseudo-terminals: cues from the station's own cue stream, in real time.

    python -m tests.benchmarks.pouring.whole [--benches 4] [--pours 5] [--liquids NAMES] [--scales NAMES]

A bench for each pair of liquid and scale, so many at a time: 16 benches of five pours take nine minutes. The people are
`person`, or with --simulator another program that takes what `Lane.command` hands it. It prints the name of its
pseudo-terminal, then an object of JSON for each pour, and takes `pace x`, `stop SAID_S`, `ok` on stdin.
"""

from __future__ import annotations

import json
import socket
import subprocess
import sys
import threading
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

import click
import numpy as np
from gpiozero.pins.mock import MockFactory, MockPWMPin

from station.app import Station, assembled
from station.clock import SystemClock
from station.config import ClimateSettings, ScaleSettings, Settings, SignalSettings, WebSettings
from station.core.mass import Mass
from station.core.material import ScaleCard
from station.core.pouring_messages import BeginPractice
from station.cue_stream import FILE
from tests.benchmarks.pouring.liquids import LIQUIDS
from tests.benchmarks.pouring.scales import KINDS
from tests.benchmarks.pouring.tally import Pours, line

BEGINNING = threading.Lock()

Event = dict[str, object]

OVER = ("ACCEPTED", "KEPT_IN_MEMORY", "OVER")


@dataclass(frozen=True, slots=True)
class Lane:
    """Who pours what at which scale."""

    liquid: str
    scale: str
    seed: int

    @property
    def card(self) -> ScaleCard:
        kind = KINDS[self.scale]
        return ScaleCard(Mass.grams(str(kind.d_g)), Mass.grams(5000), kind.lag_s)

    def command(self, simulator: Path | None, target_g: str, percent: float, pours: int) -> list[str]:
        """How its person is started."""
        common = ["--seed", str(self.seed), "--liquid", self.liquid, "--target", target_g, "--pours", str(pours)]
        if simulator is None:
            return [sys.executable, "-m", "tests.benchmarks.pouring.person", *common, "--kind", self.scale]
        kind = KINDS[self.scale]
        scale = f"d={kind.d_g},rate={kind.rate_hz:g},lag={kind.lag_s},filter={'iir' if kind.poles else 'ma'}"
        own = ["--pty", "--quiet", "--tol", str(percent / 100), "--scale", scale]
        return [sys.executable, str(simulator), *common, *own]


class Bench:
    """One station and one simulated person, each in its own threads; `pours` are the simulator's own verdicts."""

    def __init__(self, folder: Path, command: list[str], card: ScaleCard, practice: BeginPractice) -> None:
        self.folder, self.card, self.practice = folder, card, practice
        self.person = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, bufsize=1)
        assert self.person.stdout is not None
        self.port = self.person.stdout.readline().strip()
        self.pours: list[Event] = []

    def run(self) -> None:
        settings = Settings(
            name="bench",
            state_dir=self.folder,
            scale=ScaleSettings(port=self.port, family="status-mode-commas", card=self.card),
            signals=SignalSettings(speech=False),
            climate=ClimateSettings("none", humidity=False),
            web=WebSettings("127.0.0.1", 0),
        )
        with ExitStack() as stack:
            with BEGINNING:  # the library that brings a record up to date takes one at a time
                made = assembled(settings, SystemClock(), pin_factory=MockFactory(pin_class=MockPWMPin))
                station = stack.enter_context(made)
            loop = threading.Thread(target=station.loop.run)
            with station.cues.opened([self.folder]):
                loop.start()
                station.inbox.ask(self.practice).result(60)
                self._led(station)
            station.inbox.end()
            loop.join()

    def _led(self, station: Station) -> None:
        with socket.socket(socket.AF_UNIX, socket.SOCK_STREAM) as stream:
            stream.connect(str(self.folder / FILE))
            threading.Thread(target=self._cue, args=(stream,), daemon=True).start()
            assert self.person.stdout is not None
            for told in self.person.stdout:
                event = json.loads(told)
                if event["ev"] == "result":
                    self.pours.append(event)
                    click.echo(f"{self.folder.name} {told.strip()}", err=True)
            self.person.wait()
            stream.shutdown(socket.SHUT_RDWR)

    def _cue(self, stream: socket.socket) -> None:
        assert self.person.stdin is not None
        for told in stream.makefile("r"):
            cue = json.loads(told)
            said = None
            if cue["cue"] == "PACE" and cue["pace"] is not None:
                said = f"pace {cue['pace']}"
            elif cue["cue"] == "STOP":
                said = f"stop {cue['at_s']}"
            elif cue["cue"] in OVER:
                said = "ok"
            if said is not None:
                try:
                    self.person.stdin.write(said + "\n")
                except OSError:
                    return


def lanes_of(liquids: str, scales: str, seed: int, known: tuple[str, ...]) -> list[Lane]:
    """Every liquid at every scale, each pair with a person of its own."""
    pairs = [(liquid, scale) for scale in scales.split(",") for liquid in (liquids.split(",") if liquids else known)]
    return [Lane(liquid, scale, seed + n) for n, (liquid, scale) in enumerate(pairs)]


def told(label: str, some: list[Event], target_g: float, tolerance_g: float) -> None:
    """What came of these pours, in a line; those that never began are counted as not accepted."""
    if not some:
        return
    columns = [[float("nan") if e[k] is None else float(str(e[k])) for e in some] for k in KEYS]
    first, final, took, stops = (np.array(column) for column in columns)
    pours = Pours(first + target_g, final + target_g, took, stops)
    click.echo(line(label, pours, target_g, tolerance_g))


def delays(label: str, some: list[Event], since: str) -> None:
    """From the scale's newest line, or from the bench's telling it, until the person had heard the first stop."""
    ms = [1000 * (float(str(e["stop_s"])) - float(str(e[since]))) for e in some if "stop_s" in e]
    if ms:
        p50, p99 = np.percentile(ms, [50, 99])
        click.echo(f"{label:<34} n {len(ms):3d}  p50 {p50:5.1f}  p99 {p99:5.1f}  most {max(ms):5.1f} ms")


@click.command()
@click.option("--simulator", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--benches", default=4, help="So many at a time.")
@click.option("--pours", default=5)
@click.option("--seed", default=1)
@click.option("--liquids", default="", help="All of ours, unless named.")
@click.option("--scales", default="fine quick,fine slow,tenth quick,tenth slow", help=", ".join(KINDS))
@click.option("--target", "target_g", default="62.4")
@click.option("--percent", default=1.0)
def main(  # noqa: PLR0917  # one for each option
    simulator: Path | None, benches: int, pours: int, seed: int, liquids: str, scales: str, target_g: str,
    percent: float,
) -> None:  # fmt: skip
    """Prints what came of the first pours, of those from the third on, and how late the stop was heard."""
    lanes = lanes_of(liquids, scales, seed, tuple(LIQUIDS))
    with TemporaryDirectory() as folder, ThreadPoolExecutor(benches) as pool:
        made = []
        for n, lane in enumerate(lanes):
            place = Path(folder) / str(n)
            place.mkdir()
            practice = BeginPractice(Mass.grams(target_g), percent, pours, lane.card, "benchmark")
            command = lane.command(simulator, target_g, percent, pours)
            made.append((lane, pool.submit(poured, place, command, lane.card, practice)))
        results = [(lane, event) for lane, future in made for event in future.result()]
    target = float(target_g)
    tolerance = target * percent / 100
    later = [(lane, event) for lane, event in results if int(str(event["pour"])) >= FROM]
    told("first pour", [event for _, event in results if event["pour"] == 1], target, tolerance)
    told("from the third", [event for _, event in later], target, tolerance)
    for scale in scales.split(","):
        told(scale, [event for lane, event in later if lane.scale == scale], target, tolerance)
    for liquid in dict.fromkeys(lane.liquid for lane in lanes):
        told(liquid, [event for lane, event in later if lane.liquid == liquid], target, tolerance)
    told("all", [event for _, event in results], target, tolerance)
    if calm := [event for _, event in later if float(str(event.get("late_s", 1))) <= CALM_S]:
        told("…, no line late", calm, target, tolerance)
    delays("the scale's newest line to the ear", [event for _, event in results], "line_s")
    delays("told by the bench to the ear", [event for _, event in results], "said_s")


def poured(place: Path, command: list[str], card: ScaleCard, practice: BeginPractice) -> list[Event]:
    """All pours of one bench."""
    bench = Bench(place, command, card, practice)
    bench.run()
    return bench.pours


KEYS = ("first_err_g", "final_err_g", "time_s", "attempts")
FROM = 3
CALM_S = 0.05
"""A pour of which no line came later than so: what a steady scale would have sent."""

if __name__ == "__main__":
    main()
