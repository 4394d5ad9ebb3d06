"""What cups set down by hand could tell of a scale's lag, held against its true lag: why the station asks for it.

A step comes out of a filter smeared over time, and how far (the standard deviation of the slope's place in time) goes
with the lag L: L/sqrt(3) for a moving average, L/sqrt(2) for two equal poles (variances of a uniform and of a gamma
distribution). The hand smears it as well: it presses while it sets down, and lets go slowly. So of several cups the
quickest count.

python -m tests.benchmarks.detecting.lags [--cups 200] [--seed 1]
"""

from __future__ import annotations

import math
from itertools import pairwise

import click
import numpy as np

from tests.benchmarks.detecting.filters import QUICK, SLOW, Kind, Line, lines
from tests.benchmarks.detecting.loads import blank, set_down

FACTOR = 1.55
"""Between the roots of 3 and 2: nobody knows which filter it is."""

SLACK, LEAST_OF_D = 0.02, 40
"""What falls back by more than this part is a hand that let go; a step of fewer d is too coarse."""

AT_S, WHOLE_S = 3.0, 10.0
OF = 10
"""The quickest quarter of so many cups gives the estimate of a day."""


def lag_of(told: list[Line], d_g: float) -> float | None:
    """Seconds, from lines about one step between two rests; None where they show no clean one."""
    step = told[-1].grams - told[0].grams
    if step < LEAST_OF_D * d_g:
        return None
    rises = [(after.grams - before.grams, before.at_s, after.at_s) for before, after in pairwise(told)]
    if min(rise for rise, _, _ in rises) < -max(2 * d_g, SLACK * step):
        return None
    weights = np.array([max(0.0, rise) for rise, _, _ in rises])
    weights[weights < 2 * d_g] = 0.0
    if (weights > 0.01 * step).sum() < 3:
        return None
    middles = np.array([(a + b) / 2 for _, a, b in rises])
    periods = np.array([b - a for _, a, b in rises])
    mean = np.average(middles, weights=weights)
    var = np.average((middles - mean) ** 2 - periods**2 / 12, weights=weights)
    return FACTOR * math.sqrt(max(0.0, float(var)))


def measured(kind: Kind, cups: int, rng: np.random.Generator, *, pressed: bool) -> tuple[float, list[float]]:
    """The share of cups that showed a clean step, and what these gave, as parts of the true lag."""
    loads = []
    for _ in range(cups):
        load = blank(WHOLE_S)
        grams = float(np.exp(rng.uniform(np.log(6), np.log(80))))
        if pressed:
            set_down(load, AT_S, grams, rng)
        else:
            since = np.arange(len(load)) * 0.01 - AT_S
            load += grams * np.clip(since / rng.uniform(0.05, 0.3), 0.0, 1.0)
        loads.append(load)
    found = [lag_of(told, kind.d_g) for told in lines(np.array(loads).T, kind, rng)]
    parts = [lag / kind.lag_s for lag in found if lag is not None]
    return len(parts) / cups, parts


@click.command()
@click.option("--cups", default=200)
@click.option("--seed", default=1)
def main(cups: int, seed: int) -> None:
    """Prints for each scale what share of cups gave a lag, and that lag as a part of the true one."""
    rng = np.random.default_rng(seed)
    for kind in (*QUICK, SLOW):
        for pressed in (True, False):
            share, parts = measured(kind, cups, rng, pressed=pressed)
            how = "pressed down by hand" if pressed else "let go at once      "
            if len(parts) < OF:
                click.echo(f"{kind.title:<40} {how} a step in {100 * share:5.1f} %")
                continue
            low, middle, high = np.percentile(parts, [5, 50, 95])
            days = [np.percentile(rng.choice(parts, OF), 25) for _ in range(400)]
            quick = np.percentile(days, [5, 50, 95])
            click.echo(
                f"{kind.title:<40} {how} a step in {100 * share:5.1f} %  of the true lag {middle:4.2f} "
                f"({low:4.2f} to {high:4.2f})  of {OF} {quick[1]:4.2f} ({quick[0]:4.2f} to {quick[2]:4.2f})"
            )


if __name__ == "__main__":
    main()
