"""A probed station as a process of its own, a scale on a pseudo-terminal, and a hand that follows a script."""

from __future__ import annotations

import json
import queue
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from station.simulated.pty_port import PtyPort
from tests.benchmarks.process import ROOT, as_installed
from tests.ports import free_port

GIVES_UP_S = 30.0
CUP_G = 24.3
ACCEPTED = ("ACCEPTED", "KEPT_IN_MEMORY")


def percentiles(seconds: list[float]) -> str:
    """Median, 99th percentile and worst, in milliseconds."""
    ordered = sorted(seconds)
    return (
        f"p50 {at(ordered, 0.5) * 1000:8.2f} ms, p99 {at(ordered, 0.99) * 1000:8.2f} ms, "
        f"max {ordered[-1] * 1000:8.2f} ms, n {len(ordered)}"
    )


def at(ordered: list[float], part: float) -> float:
    return ordered[min(len(ordered) - 1, int(len(ordered) * part))]


class Rig:
    """Start it with `with`; `cues` are all that was told of cues so far. `folder` outlives it."""

    def __init__(self, folder: Path, ahead_s: float = 0.0) -> None:
        self.folder, self.ahead_s = folder, ahead_s
        self.port = PtyPort(folder / "scale")
        self.cues: list[dict[str, Any]] = []
        self.grams = 0.0
        self._told: queue.SimpleQueue[dict[str, Any] | None] = queue.SimpleQueue()
        settings = folder / "station.toml"
        settings.write_text(
            f'state_dir = "{folder}/state"\n[scale]\nport = "{self.port.path}"\nfamily = "status-commas"\n'
            f'[web]\nhost = "127.0.0.1"\nport = {free_port()}\n[climate]\nsensor = "none"\nhumidity = false\n'
            "[signals]\nspeech = false\n"
        )

    def __enter__(self) -> Rig:
        self.port.plug_in()
        self.start()
        return self

    def __exit__(self, *_: object) -> None:
        self.end()

    @contextmanager
    def adopted(self) -> Iterator[None]:
        """For a station that was started already: it ends with the block."""
        try:
            yield
        finally:
            self.end()

    def end(self) -> None:
        """End the station, and unplug the scale."""
        self.run.terminate()
        self.run.wait(GIVES_UP_S)
        self.port.unplug()

    def start(self) -> None:
        """Start the process, and wait until it takes orders."""
        settings = str(self.folder / "station.toml")
        self.run = subprocess.Popen(
            [sys.executable, "-m", "tests.benchmarks.probe", settings, str(self.ahead_s)],
            cwd=ROOT,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=(self.folder / "log").open("a"),
            text=True,
            env=as_installed(),
        )
        self._told = queue.SimpleQueue()  # what an earlier process told counts no more
        threading.Thread(target=self._read, args=(self.run.stdout, self._told), daemon=True).start()
        self.url = self._answer("start")

    def _read(self, lines: Any, told: queue.SimpleQueue[dict[str, Any] | None]) -> None:
        for line in lines:
            told.put(json.loads(line))
        told.put(None)

    def order(self, *order: object) -> Any:
        """Have the station do it, while the scale goes on; its answer."""
        assert self.run.stdin is not None
        self.run.stdin.write(json.dumps(order) + "\n")
        self.run.stdin.flush()
        return self._answer(str(order[0]))

    def _answer(self, order: str) -> Any:
        end = time.monotonic() + GIVES_UP_S
        while time.monotonic() < end:
            told = self._next()
            if told is not None and told.get("did") == order:
                return told["result"]
        raise RuntimeError(f"{order}: no answer; {(self.folder / 'log').read_text()[-2000:]}")

    def _next(self, within_s: float = 0.1) -> dict[str, Any] | None:
        """What is told within the time between two lines of the scale; else the next line is sent."""
        try:
            told = self._told.get(timeout=within_s)
        except queue.Empty:
            self.port.emit(f"ST,+{self.grams:08.1f}  g\r\n".encode())
            return None
        if told is None:
            raise RuntimeError(f"the station has ended; {(self.folder / 'log').read_text()[-2000:]}")
        if "cue" in told:
            self.cues.append(told)
        return told

    def put(self, grams: float, *until: str) -> None:
        """So much stands on the pan, until one of these cues is heard."""
        self.grams, end = grams, time.monotonic() + GIVES_UP_S
        while time.monotonic() < end:
            told = self._next()
            if told is not None and told.get("cue") in until:
                return
        raise RuntimeError(f"{until} never came; heard {[cue['cue'] for cue in self.cues[-8:]]}")

    def stand(self, grams: float, lines: int) -> None:
        """So much stands on the pan for this many lines of the scale."""
        self.grams = grams
        while lines:
            lines -= self._next() is None

    def pour_all(self) -> float:
        """Lift the cup and put it back, then weigh whatever is to be weighed, up to mixing; grams then on the pan."""
        self.put(CUP_G, "TARED")
        self.stand(CUP_G, 3)
        self.put(0.0, "CUP_LIFTED")
        self.put(CUP_G, "CUP_KNOWN")
        load = CUP_G
        while (where := self.order("where"))[0] != "Mix":
            if where[0] == "Weigh":
                self.stand(load + 0.5 * where[1], 3)
                self.put(load + 0.85 * where[1], "NEAR", "STOP")
                load += where[1]
                self.put(load, *ACCEPTED)
            else:
                self.order("press")
        return load
