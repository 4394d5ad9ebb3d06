"""Somebody who asks for pages without a pause, as a process of its own: python -m tests.benchmarks.asker PORT PLACE...

Each question comes from an address of its own, since one alone may not ask so often. Asks until its input ends, then
tells how many pages came.
"""

from __future__ import annotations

import select
import sys
from contextlib import closing
from http.client import HTTPConnection


def asked(port: int, place: str, number: int) -> int:
    """The status of the answer."""
    source = (f"127.0.{number // 250 % 200 + 10}.{number % 250 + 1}", 0)
    with closing(HTTPConnection("127.0.0.1", port, timeout=60, source_address=source)) as wire:
        wire.request("GET", place)
        answer = wire.getresponse()
        answer.read()
        return answer.status


def main(port: int, places: list[str]) -> None:
    print("there", flush=True)
    number, good = 0, 0
    while not select.select([sys.stdin], [], [], 0)[0]:
        good += asked(port, places[number % len(places)], number) == 200
        number += 1
    print(good, flush=True)


if __name__ == "__main__":
    main(int(sys.argv[1]), sys.argv[2:])
