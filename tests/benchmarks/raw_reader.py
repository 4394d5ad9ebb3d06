"""The floor below the scale's thread: the same poll and read on the same terminal, and nothing else.

    python -m tests.benchmarks.raw_reader DEVICE

Reads until its input ends, then tells when each line had come, as a line of JSON.
"""

from __future__ import annotations

import json
import os
import select
import sys
import time


def main(device: str) -> None:
    port = os.open(device, os.O_RDWR | os.O_NOCTTY | os.O_NONBLOCK)
    poll = select.poll()
    poll.register(port, select.POLLIN)
    poll.register(sys.stdin.fileno(), select.POLLIN | select.POLLHUP)
    arrived: list[float] = []
    print("there", flush=True)
    while True:
        ready = {number for number, _ in poll.poll(1000)}
        if port in ready:
            lines = os.read(port, 4096).count(b"\n")
            arrived += [time.perf_counter()] * lines
        elif sys.stdin.fileno() in ready:
            break
    print(json.dumps(arrived), flush=True)


if __name__ == "__main__":
    main(sys.argv[1])
