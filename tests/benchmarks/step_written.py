"""What an accepted weighing writes: commits and bytes; run by hand: python -m tests.benchmarks.step_written [--short]

A service as a process of its own with a scale on a pseudo-terminal; bytes as the kernel counts them (pages made dirty,
4 KiB each), commits as the ledger begins them. Beside it the same counts while a cup stands still for as long.
"""

from __future__ import annotations

import statistics
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from tests.benchmarks.process import written
from tests.benchmarks.rig import ACCEPTED, CUP_G, Rig
from tests.benchmarks.table import Figure, told

STILL_LINES = 30


def weighings(rig: Rig) -> Iterator[tuple[list[list[str]], int]]:
    """One cast: what was written from the end of each pour until its weighing was accepted, and the bytes of that."""
    rig.stand(0.0, 15)
    number = rig.order("begin")
    rig.put(CUP_G, "TARED")
    load = CUP_G
    while (where := rig.order("where"))[0] != "Mix":
        if where[0] != "Weigh":
            rig.order("press")
            continue
        rig.stand(load + 0.5 * where[1], 3)
        rig.put(load + 0.85 * where[1], "NEAR", "STOP")
        load += where[1]
        rig.stand(load, 1)
        rig.order("commits")
        before = written(rig.run.pid)
        rig.put(load, *ACCEPTED)
        time.sleep(0.2)
        yield rig.order("commits"), written(rig.run.pid) - before
    rig.order("abort", number)


def measured(short: bool) -> Iterator[Figure]:
    with tempfile.TemporaryDirectory(dir="/var/tmp") as folder, Rig(Path(folder)) as rig:
        rig.order("commits")
        rig.stand(0.0, 50)  # the chores at the start are done by then
        rig.order("commits")
        before = written(rig.run.pid)
        rig.stand(0.0, STILL_LINES)
        still = len(rig.order("commits")), written(rig.run.pid) - before
        yield Figure("an empty pan for 3 s", f"{still[0]} commits, {still[1]} bytes", "", "0", still == (0, 0))
        found = [one for _ in range(1 if short else 10) for one in weighings(rig)]
    own = [sum("Accepted" in commit for commit in one[0]) for one in found]
    others = sorted({kind for one in found for commit in one[0] if "Accepted" not in commit for kind in commit})
    yield Figure(
        f"an accepted weighing (n {len(found)})",
        f"{max(own)} commit; {statistics.median(one[1] for one in found) / 1024:.0f} KiB, which hold "
        f"{', '.join(others) or 'nothing'} besides, where it was due just then",
        "",
        "1 commit",
        set(own) == {1},
    )


if __name__ == "__main__":
    told(measured)
