"""From what calls for a cue to the cue at the buzzer's driver; by hand: python -m tests.benchmarks.cue_delay [CYCLES]

A cycle is a cast up to its alarm: cup put down, lifted, put back, two components poured and accepted, mixed long
enough, pour-by alarm, given up. Each is run undisturbed, then with a slow disk, with browsers that never read what they
are sent, and with an inbox that is never empty. A reading counts from the moment its line was read, a clock from when
it is due; the cue counts when the player of the buzzer has it. The clock leaps to shortly before each due time;
nothing else is accelerated. Compare the ratios: each run stands beside the undisturbed one.
"""

from __future__ import annotations

import socket
import sys
import tempfile
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

from tests.benchmarks.rig import Rig, at, percentiles

BROWSERS = 45
INBOX = 200


@dataclass(frozen=True, slots=True)
class Trouble:
    """What is wrong in this run."""

    name: str
    slow_s: float = 0.0
    browsers: int = 0
    inbox: int = 0


TROUBLES = (
    Trouble("undisturbed"),
    Trouble("each write takes 0.4 s longer", slow_s=0.4),
    Trouble("each write takes 0.7 s longer", slow_s=0.7),
    Trouble("each write takes 2 s longer", slow_s=2.0),
    Trouble(f"{BROWSERS} browsers that never read", browsers=BROWSERS),
    Trouble(f"never less than {INBOX} messages wait", inbox=INBOX),
)


def stuck(url: str, stack: ExitStack) -> None:
    """A browser that asks for the stream and never reads it; its window is as small as the system lets it be."""
    browser = stack.enter_context(socket.socket())
    browser.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 1)
    place = urlsplit(url)
    browser.connect((place.hostname, place.port))
    browser.sendall(f"GET /api/stream HTTP/1.1\r\nHost: {place.netloc}\r\n\r\n".encode())


def kind(cue: dict[str, object]) -> str:
    """What called for it, and whether it is a receipt that has to wait for the disk."""
    if cue["cue"] in ("MIX_ENOUGH", "ALARM"):
        return "clock"
    return "receipt" if cue["writes"] else "guidance"


def measured(trouble: Trouble, cycles: int) -> dict[str, list[float]]:
    """Seconds by kind."""
    with ExitStack() as stack:
        folder = Path(stack.enter_context(tempfile.TemporaryDirectory(dir="/var/tmp")))
        rig = stack.enter_context(Rig(folder))
        for _ in range(trouble.browsers):
            stuck(rig.url, stack)
        rig.stand(0.0, 20)
        if trouble.slow_s:
            rig.order("slow", trouble.slow_s)
        if trouble.inbox:
            rig.order("flood", trouble.inbox)
        for _ in range(cycles):
            number = rig.order("begin")
            load = rig.pour_all()
            rig.order("leap")
            rig.put(load, "MIX_ENOUGH")
            rig.order("leap")
            rig.put(load, "ALARM")
            rig.order("abort", number)
            rig.stand(0.0, 5)
        found: dict[str, list[float]] = {"guidance": [], "receipt": [], "clock": []}
        for cue in rig.cues:
            found[kind(cue)].append(cue["took_s"])
        kept = sum(cue["cue"] == "KEPT_IN_MEMORY" for cue in rig.cues)
    if kept:
        print(f"{trouble.name}: {kept} weighings were accepted with the cue for 'in memory only'")
    return found


def main(cycles: int) -> None:
    floor: dict[str, list[float]] = {}
    for trouble in TROUBLES:
        found = measured(trouble, cycles)
        floor = floor or found
        for which, took in found.items():
            ratio = " ".join(
                f"{at(sorted(took), part) / at(sorted(floor[which]), part):.1f}" for part in (0.5, 0.99, 1.0)
            )
            print(f"{trouble.name:40} {which:9} {percentiles(took)}; times undisturbed {ratio}", flush=True)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 20)
