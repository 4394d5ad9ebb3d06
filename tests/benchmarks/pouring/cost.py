"""What a reading costs in the pure guidance: heard and held against its stop, pour after pour, in this process alone.

python -m tests.benchmarks.pouring.cost [--pours 40]
"""

from __future__ import annotations

import time

import click
import numpy as np

from station.core.guidance.learned import learn, nothing_yet
from station.core.guidance.pour import Phase, Pour, due, fell_short, heard, lesson, rested
from station.core.guidance.task import Task

RATE_HZ, LAG_S, D_G, LATE_S = 20.0, 0.3, 0.01, 0.4


@click.command()
@click.option("--pours", default=40)
def main(pours: int) -> None:
    """Prints milliseconds a reading: in the middle, 99 %, at most; and those of a "go on" and of a lesson."""
    task, learned, rng = Task(62.4, 61.776, 63.024, D_G, LAG_S), nothing_yet(LAG_S), np.random.default_rng(1)
    each, others = [], []
    for _ in range(pours):
        pour, past, stopped, net = Pour(), [0.0], None, 0.0
        for n in range(1, 400):
            at = n / RATE_HZ
            flowing = stopped is None or at < stopped + LATE_S
            net += max(0.8, 8.0 * (1 - pour.pace)) * float(np.exp(0.1 * rng.standard_normal())) / RATE_HZ * flowing
            past.append(net)
            shown = round(past[max(0, n - round(LAG_S * RATE_HZ))] / D_G) * D_G
            began = time.perf_counter()
            pour = heard(pour, at, shown, task, learned)
            stop = due(pour, at, task)
            each.append(time.perf_counter() - began)
            pour, stopped = (pour, stopped) if stop is None else (stop, at)
        began = time.perf_counter()
        if pour.phase is Phase.STOPPED and net < task.low_g:
            fell_short(pour, 20.0, net, task, learned)
        learned = learn(learned, lesson(rested(pour, net)), task)
        others.append(time.perf_counter() - began)
    told = [f"{1000 * float(x):.3f}" for x in (*np.percentile(each, [50, 99, 100]), max(others))]
    click.echo(
        f"a reading of {len(each)}: p50 {told[0]}, p99 {told[1]}, at most {told[2]} ms; a lesson at most {told[3]}"
    )


if __name__ == "__main__":
    main()
