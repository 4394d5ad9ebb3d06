"""The whole station and a simulator on a pseudo-terminal: cues from the station's own cue stream, in real time.

    python -m tests.benchmarks.pouring.whole --simulator PATH [--benches 3] [--pours 5] [--liquid NAME] [--scale ...]

The simulator is started as `python PATH --pty --seed N --liquid L --target G --scale ... --pours N --quiet`. It prints
the name of its pseudo-terminal, then an object of JSON for each pour, and takes `pace x`, `stop`, `ok` on stdin.
"""

from __future__ import annotations

import json
import socket
import subprocess
import sys
import threading
from contextlib import ExitStack
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
from tests.benchmarks.pouring.tally import Pours, line

BEGINNING = threading.Lock()

OVER = ("ACCEPTED", "KEPT_IN_MEMORY", "OVER")


class Bench:
    """One station and one simulated person, each in its own threads; `pours` are the simulator's own verdicts."""

    def __init__(self, folder: Path, command: list[str], card: ScaleCard, practice: BeginPractice) -> None:
        self.folder, self.card, self.practice = folder, card, practice
        self.person = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, bufsize=1)
        assert self.person.stdout is not None
        self.port = self.person.stdout.readline().strip()
        self.pours: list[dict[str, object]] = []

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
                said = "stop"
            elif cue["cue"] in OVER:
                said = "ok"
            if said is not None:
                try:
                    self.person.stdin.write(said + "\n")
                except OSError:
                    return


@click.command()
@click.option("--simulator", required=True, type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--benches", default=2)
@click.option("--pours", default=5)
@click.option("--seed", default=1)
@click.option("--liquid", default="syrup")
@click.option("--target", "target_g", default="62.4")
@click.option("--percent", default=1.0)
@click.option("--d", "d_g", default="0.1")
@click.option("--rate", default="10")
@click.option("--lag", "lag_s", default=0.6)
def main(  # noqa: PLR0917  # one for each option
    simulator: Path, benches: int, pours: int, seed: int, liquid: str, target_g: str, percent: float, d_g: str,
    rate: str, lag_s: float,
) -> None:  # fmt: skip
    """Prints what came of the first pours and of those from the third on, by the simulator's own verdicts."""
    card = ScaleCard(Mass.grams(d_g), Mass.grams(5000), lag_s)
    practice = BeginPractice(Mass.grams(target_g), percent, pours, card, "benchmark")
    with TemporaryDirectory() as folder:
        made = []
        for n in range(benches):
            place = Path(folder) / str(n)
            place.mkdir()
            command = [sys.executable, str(simulator), "--pty", "--seed", str(seed + n), "--liquid", liquid]
            command += ["--target", target_g, "--tol", str(percent / 100), "--pours", str(pours), "--quiet"]
            command += ["--scale", f"d={d_g},rate={rate},lag={lag_s}"]
            made.append(Bench(place, command, card, practice))
        threads = [threading.Thread(target=bench.run) for bench in made]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    told = [event for bench in made for event in bench.pours]
    target = float(target_g)
    for label, some in (
        ("first pour", [e for e in told if e["pour"] == 1]),
        ("from the third", [e for e in told if int(str(e["pour"])) >= 3]),
    ):
        if some:
            columns = [[float("nan") if e[k] is None else float(str(e[k])) for e in some] for k in KEYS]
            first, final, took, stops = (np.array(column) for column in columns)
            click.echo(line(label, Pours(first + target, final + target, took, stops), target, target * percent / 100))


KEYS = ("first_err_g", "final_err_g", "time_s", "attempts")

if __name__ == "__main__":
    main()
