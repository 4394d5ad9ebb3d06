"""What fifty open pages cost against one; by hand: python -m tests.benchmarks.fifty_pages [LINES]

A station as a process of its own; a scale that sends ten lines a second. Every third line shows a weight that was never
there before: the time from that line to the state with that weight at each page counts, and the station's processor
time meanwhile. Then fifty again, of which ten never read what they are sent. Compare the ratios: all runs stand in one.
"""

from __future__ import annotations

import os
import selectors
import socket
import subprocess
import sys
import tempfile
import threading
import time
import urllib.request
from contextlib import ExitStack
from dataclasses import dataclass, field
from pathlib import Path

from station.simulated.pty_port import PtyPort
from tests.benchmarks.process import ROOT, as_installed
from tests.benchmarks.rig import at, percentiles
from tests.ports import free_port

PORT = free_port()
REQUEST = f"GET /api/stream HTTP/1.1\r\nHost: 127.0.0.1:{PORT}\r\n\r\n".encode()
LATE_S, SETTLES_S, WAITS_S = 2.0, 3.0, 60.0


@dataclass
class Page:
    """One open stream: when each weight arrived at it."""

    wire: socket.socket
    rest: bytes = b""
    states: int = 0
    seen: dict[int, float] = field(default_factory=dict)

    def take(self) -> None:
        now = time.perf_counter()
        *lines, self.rest = (self.rest + self.wire.recv(1 << 20)).split(b"\n")
        for line in lines:
            if line.startswith(b"data: {"):
                self.states += 1
                place = line.find(b'"gross":{"mg":')
                if place >= 0:
                    self.seen.setdefault(int(line[place + 14 : line.index(b",", place)]), now)


def readers(pages: list[Page], over: threading.Event) -> None:
    with selectors.DefaultSelector() as watch:
        for page in pages:
            watch.register(page.wire, selectors.EVENT_READ, page)
        while not over.is_set():
            for key, _ in watch.select(0.2):
                key.data.take()


def cpu_s(pid: int) -> float:
    fields = Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def run(port: PtyPort, pid: int, *, count: int, deaf: int, lines: int, first: int) -> tuple[list[float], float, float]:
    """Delays of all weights at all pages that read, the part of one processor that it took, states a second."""
    sent: dict[int, float] = {}
    over = threading.Event()
    time.sleep(SETTLES_S)  # the streams of the run before are given back once the server finds them gone
    with ExitStack() as stack:
        wires = [stack.enter_context(socket.socket()) for _ in range(count)]
        for place, wire in enumerate(wires):
            if place < deaf:
                wire.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 1)
            # An address each, as fifty phones have: one alone may not open so many.
            wire.bind((f"127.0.{first // 1000 + 1}.{place + 1}", 0))
            wire.connect(("127.0.0.1", PORT))
            wire.sendall(REQUEST)
        pages = [Page(wire) for wire in wires[deaf:]]
        reading = threading.Thread(target=readers, args=(pages, over))
        reading.start()
        # All are there and hear before anything counts.
        late_s = time.perf_counter() + WAITS_S
        while not all(first * 1000 in page.seen for page in pages):
            if time.perf_counter() > late_s:
                over.set()
                reading.join()
                raise RuntimeError(f"not every page of {count} heard anything within {WAITS_S:g} s")
            port.emit(f"US,+{first:06d}.0  g\r\n".encode())
            time.sleep(0.1)
        began, before, states = time.perf_counter(), cpu_s(pid), sum(page.states for page in pages)
        grams = first
        for line in range(lines):
            if line % 3 == 0:
                grams += 1
                sent[grams * 1000] = time.perf_counter()
            port.emit(f"US,+{grams:06d}.0  g\r\n".encode())
            time.sleep(0.1)
        took = time.perf_counter() - began
        part, rate = (cpu_s(pid) - before) / took, (sum(page.states for page in pages) - states) / took
        time.sleep(0.5)
        over.set()
        reading.join()
    # A scale's line may lie between two states; then its weight was never shown, to no page.
    shown = {weight for weight in sent if any(weight in page.seen for page in pages)}
    delays = [page.seen.get(weight, sent[weight] + LATE_S) - sent[weight] for page in pages for weight in shown]
    return delays, part, rate


def main(lines: int) -> None:
    with tempfile.TemporaryDirectory() as folder, PtyPort(Path(folder) / "scale") as port:
        config = Path(folder) / "station.toml"
        config.write_text(
            f'state_dir = "{folder}/state"\n[scale]\nport = "{port.path}"\nfamily = "status-commas"\n'
            f'[web]\nhost = "127.0.0.1"\nport = {PORT}\n[climate]\nsensor = "none"\nhumidity = false\n'
            "[signals]\nspeech = false\n"
        )
        station = subprocess.Popen(
            [sys.executable, "-m", "station", "run", "--config", config],
            cwd=ROOT,
            stderr=subprocess.DEVNULL,
            env=as_installed(),
        )
        try:
            for _ in range(600):
                try:
                    urllib.request.urlopen(f"http://127.0.0.1:{PORT}/api/state", timeout=5).read()
                    break
                except OSError:
                    time.sleep(0.05)
            figures = []
            for first, (count, deaf) in enumerate([(1, 0), (50, 0), (50, 10)]):
                delays, part, rate = run(
                    port, station.pid, count=count, deaf=deaf, lines=lines, first=100 + 1000 * first
                )
                figures.append((at(sorted(delays), 0.5), at(sorted(delays), 0.99), part))
                name = f"{count} pages" + (f", {deaf} of them deaf" if deaf else "")
                print(
                    f"{name:28} {percentiles(delays)}, {part * 100:5.1f} % of a processor, {rate:.0f} states a second"
                )
            one = figures[0]
            for name, other in zip(("fifty", "fifty, ten deaf"), figures[1:], strict=True):
                ratios = [each / alone for each, alone in zip(other, one, strict=True)]
                print(f"{name:28} against one: p50 × {ratios[0]:.1f}, p99 × {ratios[1]:.1f}, CPU × {ratios[2]:.1f}")
        finally:
            station.terminate()
            station.wait(20)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 150)
