"""Figures of the whole service on this machine; run by hand: python -m tests.benchmarks.whole_station

Real clock, a line ten times a second on a pseudo-terminal, five open streams. Each latency stands beside its
floor, a bare blocking read of the same kind of terminal, measured in the same run: compare the ratio.
"""

from __future__ import annotations

import os
import pty
import statistics
import subprocess
import sys
import tempfile
import threading
import time
import tty
import urllib.request
from pathlib import Path

from gpiozero.pins.mock import MockFactory, MockPWMPin

from station.app import assembled
from station.clock import SystemClock
from station.config import ScaleSettings, Settings, SignalSettings, WebSettings
from station.core.messages import Abort
from station.simulated.pty_port import PtyPort
from tests.benchmarks.process import ROOT, as_installed
from tests.play import CARD
from tests.ports import free_port


def percentiles(values: list[float]) -> str:
    ordered = sorted(values)
    return (
        f"median {statistics.median(ordered):.2f} ms, p99 {ordered[int(len(ordered) * 0.99)]:.2f} ms, n {len(values)}"
    )


def floor(count: int = 200) -> list[float]:
    """Write on one end, blocking read on the other, in a thread."""
    scale, host = pty.openpty()
    tty.setraw(host)
    arrived: list[float] = []
    seen = threading.Semaphore(0)

    def read() -> None:
        for _ in range(count):
            os.read(host, 100)
            arrived.append(time.perf_counter())
            seen.release()

    thread = threading.Thread(target=read)
    thread.start()
    sent = []
    for _ in range(count):
        time.sleep(0.02)
        sent.append(time.perf_counter())
        os.write(scale, b"ST,+000000.0  g\r\n")
        seen.acquire()
    thread.join()
    return [(there - here) * 1000 for here, there in zip(sent, arrived, strict=True)]


class Timed:
    """A buzzer pin that notes when it goes high."""

    def __init__(self) -> None:
        self.at: list[float] = []
        self.heard = threading.Event()

    def watch(self, pin: object) -> None:
        before = pin._change_state  # type: ignore[attr-defined]

        def change(value: float) -> bool:
            if value:
                self.at.append(time.perf_counter())
                self.heard.set()
            return bool(before(value))

        pin._change_state = change  # type: ignore[attr-defined]


def line_to_pin(count: int = 60) -> list[float]:
    """From the last byte of the line that lets the station see an empty cup at rest to the pin of its "tared" cue."""
    found = []
    with tempfile.TemporaryDirectory() as folder:
        port = PtyPort(Path(folder) / "scale")
        settings = Settings(
            "Benchmark",
            Path(folder),
            ScaleSettings(str(port.path), "status-commas", card=CARD),
            SignalSettings(speech=False),
            web=WebSettings("127.0.0.1", 0),
        )
        pins = MockFactory(pin_class=MockPWMPin)
        ready, ended = threading.Event(), threading.Event()
        box = []

        def life() -> None:
            with assembled(settings, SystemClock(), pin_factory=pins) as station:
                box.append(station)
                ready.set()
                station.loop.run()
            ended.set()

        with port:
            threading.Thread(target=life).start()
            ready.wait(20)
            station = box[0]
            timed = Timed()
            timed.watch(pins.pin(17))
            urls = [urllib.request.urlopen(f"{station.url}api/stream", timeout=60) for _ in range(5)]
            for number in range(count):
                plan = station.library.plan("example-silicone", "paddle-grip", "220 g", {}, "benchmark")
                station.inbox.ask(plan).result(5)
                time.sleep(1.2)
                last = 0.0
                timed.at.clear()
                for step in range(30):
                    time.sleep(0.1)
                    data = b"ST,+000000.0  g\r\n" if step < 8 else b"ST,+000024.3  g\r\n"
                    now = time.perf_counter()
                    port.emit(data)
                    time.sleep(0.02)
                    if timed.at:
                        last = now
                        break
                if timed.at and last:
                    found.append((timed.at[0] - last) * 1000)
                station.inbox.ask(Abort(number + 1, "benchmark", "benchmark")).result(5)
            del urls
            station.inbox.end()
            ended.wait(20)
    return found


def service() -> dict[str, str]:
    """Start to first page, CPU and memory of the idle and of the weighing service, as a process of its own."""
    with tempfile.TemporaryDirectory() as folder:
        port, page = PtyPort(Path(folder) / "scale"), free_port()
        config = Path(folder) / "station.toml"
        config.write_text(
            f'state_dir = "{folder}"\n[scale]\nport = "{port.path}"\nfamily = "status-commas"\n'
            f'[web]\nhost = "127.0.0.1"\nport = {page}\n'
        )
        with port:
            began = time.perf_counter()
            run = subprocess.Popen(
                [sys.executable, "-m", "station", "run", "--config", config],
                cwd=ROOT,
                stderr=subprocess.DEVNULL,
                env=as_installed(),
            )
            while True:
                try:
                    urllib.request.urlopen(f"http://127.0.0.1:{page}/", timeout=5).read()
                    break
                except OSError:
                    time.sleep(0.01)
            first = time.perf_counter() - began
            idle = cpu(run.pid, 10.0, lambda: None)
            rss = memory(run.pid)
            busy = cpu(run.pid, 10.0, lambda: port.emit(b"US,+000100.0  g\r\n"))
            run.terminate()
            stop = time.perf_counter()
            run.wait(20)
            stopped = time.perf_counter() - stop
    return {
        "start to first page": f"{first:.2f} s",
        "idle, scale silent": f"{idle:.1f} % of a core, {rss:.0f} MB",
        "a line ten times a second": f"{busy:.1f} % of a core",
        "SIGTERM to end": f"{stopped:.2f} s",
    }


def cpu(pid: int, seconds: float, each: object) -> float:
    ticks = os.sysconf("SC_CLK_TCK")

    def used() -> float:
        fields = Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()
        return (int(fields[11]) + int(fields[12])) / ticks

    before, end = used(), time.perf_counter() + seconds
    while time.perf_counter() < end:
        each()  # type: ignore[operator]
        time.sleep(0.1)
    return (used() - before) / seconds * 100


def memory(pid: int) -> float:
    for line in Path(f"/proc/{pid}/status").read_text().splitlines():
        if line.startswith("VmRSS"):
            return int(line.split()[1]) / 1024
    return 0.0


if __name__ == "__main__":
    print("floor, bare terminal  ", percentiles(floor()))
    print("line to buzzer pin    ", percentiles(line_to_pin(int(sys.argv[1]) if len(sys.argv) > 1 else 60)))
    for what, figure in service().items():
        print(f"{what:22}", figure)
