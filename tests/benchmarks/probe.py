"""The service as it is, with a stopwatch at its buzzer, a clock that can leap, and a disk that can be made slow.

    python -m tests.benchmarks.probe SETTINGS AHEAD_S

Takes orders on stdin and tells on stdout, a line of JSON each: see `Orders` and `Stopwatch`. AHEAD_S is how far the
clock has leapt already, for a station that comes back.
"""

from __future__ import annotations

import logging
import os
import sys
import threading
from pathlib import Path
from typing import Any

from station import service
from station.app import Station
from station.settings import read_settings
from tests.benchmarks.orders import Orders
from tests.benchmarks.stopwatch import LeapingClock, Stopwatch


def main(settings: Path, ahead_s: float) -> None:
    logging.basicConfig(level=logging.WARNING)
    clock = LeapingClock(ahead_s)
    watch, run = Stopwatch(clock), service._run

    def running(station: Station, *others: Any) -> None:
        orders = Orders(watch, station)
        threading.Thread(target=orders.obey, name="ThreadPoolExecutor, of the benchmark", daemon=True).start()
        watch.lines.put({"did": "start", "result": station.url})
        run(station, *others)

    service._run = running
    service.serve(read_settings(settings), clock, os.environ)


if __name__ == "__main__":
    main(Path(sys.argv[1]), float(sys.argv[2]))
