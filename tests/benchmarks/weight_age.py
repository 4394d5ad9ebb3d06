"""How old the weight on a phone's page is; run by hand: python -m tests.benchmarks.weight_age [SECONDS]

From the moment before a line's bytes are written to the serial port until the event that shows its weight has been read
by a client of the event stream on loopback: "arrives". And how old it has become when the next event replaces it, to
which the scale's own pace adds: "oldest". Each line has a weight of its own, so an event tells which line it shows. The
station is a process of its own on the machine's own clock; the floor in the same run is a line through a bare
pseudo-terminal. What a radio network and a phone's screen add is left out.
"""

from __future__ import annotations

import json
import sys
import tempfile
import threading
import time
import urllib.request
from itertools import chain
from pathlib import Path

from tests.benchmarks.rig import Rig, at, percentiles
from tests.benchmarks.whole_station import floor

RATES_HZ = (1, 10, 50)
WATCHERS = 5
PROMISED_S = 0.5


class Page:
    """A client of the stream: when each event had been read, and which weight it showed."""

    def __init__(self, url: str) -> None:
        self.shown: list[tuple[float, int]] = []
        self._stream = urllib.request.urlopen(f"{url}api/stream", timeout=30)
        threading.Thread(target=self._read, daemon=True).start()

    def _read(self) -> None:
        for line in self._stream:
            if line.startswith(b"data: {"):  # a state; a beat tells but its age
                read_s, gross = time.perf_counter(), json.loads(line[5:])["scale"]["gross"]
                if gross is not None:
                    self.shown.append((read_s, gross["mg"]))


def emitted(rig: Rig, rate_hz: float, seconds: float, first: int) -> dict[int, float]:
    """Lines at this rate, each a tenth of a gram more; when the line with each weight in mg went out."""
    sent: dict[int, float] = {}
    begun_s = time.perf_counter()
    for number in range(int(seconds * rate_hz)):
        time.sleep(max(0.0, begun_s + number / rate_hz - time.perf_counter()))
        tenths = first + number
        sent[tenths * 100] = time.perf_counter()
        rig.port.emit(f"US,+{tenths // 10:06d}.{tenths % 10}  g\r\n".encode())
    return sent


def ages(shown: list[tuple[float, int]], sent: dict[int, float]) -> tuple[list[float], list[float]]:
    """Of each weight of this run: its age when it arrived first, and when another took its place."""
    arrived, oldest = [], []
    before: tuple[float, int] | None = None
    for read_s, mg in shown:
        if before is not None and mg == before[1]:
            continue
        if before is not None and before[1] in sent:
            oldest.append(read_s - sent[before[1]])
        if mg in sent:
            arrived.append(read_s - sent[mg])
        before = read_s, mg
    return arrived, oldest


def main(seconds: float) -> None:
    bare = [took / 1000 for took in floor()]
    print(f"{'floor, bare terminal':24} {percentiles(bare)}")
    with tempfile.TemporaryDirectory(dir="/var/tmp") as folder, Rig(Path(folder)) as rig:
        rig.stand(0.0, 20)
        pages = [Page(rig.url) for _ in range(WATCHERS)]
        first = 100
        for rate_hz in RATES_HZ:
            sent = emitted(rig, rate_hz, seconds, first)
            time.sleep(0.5)
            first += len(sent) + 10
            each = [ages(page.shown, sent) for page in pages]
            arrived, oldest = (sorted(chain.from_iterable(one[which] for one in each)) for which in (0, 1))
            of_floor, of_promise = at(arrived, 0.5) / at(sorted(bare), 0.5), at(arrived, 0.99) / PROMISED_S
            print(f"{f'{rate_hz} lines a second':20} arrives {percentiles(arrived)}")
            print(f"{'':20}         p50 {of_floor:.0f} times the floor; p99 {of_promise:.2f} of the promised age")
            print(f"{'':20}  oldest {percentiles(oldest)}")


if __name__ == "__main__":
    main(float(sys.argv[1]) if len(sys.argv) > 1 else 60.0)
