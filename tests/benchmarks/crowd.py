"""Phones that have the page open, as a process of their own; tells when each weight reached the first of them.

    python -m tests.benchmarks.crowd PORT COUNT [STALLED]

Of COUNT streams the last STALLED never read. Reads until its input ends, then tells what came, as a line of JSON.
"""

from __future__ import annotations

import json
import selectors
import socket
import sys
import time
from contextlib import ExitStack
from typing import Any

MARK = b'"gross":{"mg":'


class Ear:
    """One stream: weights with the time at which each was read first, and how many states came."""

    def __init__(self, wire: socket.socket) -> None:
        self.wire, self.rest, self.states = wire, b"", 0
        self.seen: dict[int, float] = {}

    def take(self) -> None:
        now, data = time.perf_counter(), self.wire.recv(1 << 20)
        *lines, self.rest = (self.rest + data).split(b"\n")
        for line in lines:
            if line.startswith(b"data: {"):
                self.states += 1
                place = line.find(MARK)
                if place >= 0:
                    self.seen.setdefault(int(line[place + len(MARK) : line.index(b",", place)]), now)


def opened(port: int, place: int, stalled: bool, stack: ExitStack) -> socket.socket:
    """A stream from an address of its own, as a phone has: one address alone may not open so many."""
    wire = stack.enter_context(socket.socket())
    if stalled:
        wire.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 1)
    wire.bind((f"127.0.9.{place + 1}", 0))
    wire.connect(("127.0.0.1", port))
    wire.sendall(f"GET /api/stream HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n\r\n".encode())
    return wire


def main(port: int, count: int, stalled: int) -> None:
    with ExitStack() as stack, selectors.DefaultSelector() as watch:
        wires = [opened(port, place, place >= count - stalled, stack) for place in range(count)]
        ears = [Ear(wire) for wire in wires[: count - stalled]]
        for ear in ears:
            watch.register(ear.wire, selectors.EVENT_READ, ear)
        watch.register(sys.stdin, selectors.EVENT_READ, None)
        while not all(ear.states for ear in ears):
            for key, _ in watch.select(1.0):
                if key.data is not None:
                    key.data.take()
        print("there", flush=True)
        over = False
        while not over:
            for key, _ in watch.select(1.0):
                if key.data is None:
                    over = True
                else:
                    key.data.take()
    told: dict[str, Any] = {"first": ears[0].seen, "all": [list(ear.seen.items()) for ear in ears]}
    print(json.dumps({**told, "states": [ear.states for ear in ears]}), flush=True)


if __name__ == "__main__":
    main(int(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]) if len(sys.argv) > 3 else 0)
