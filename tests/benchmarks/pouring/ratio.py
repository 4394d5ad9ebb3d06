"""Casts of two components into one cup: the second's target follows from what the scale showed of the first.

As at the bench: the first is poured with even caution, since the second can follow it, the last with more. What counts
is the ratio of what is truly in the cup against the sheet's, within the sheet's tolerance. An overshoot of the second
at rest is counted as lost here; the bench would top up the first.

python -m tests.benchmarks.pouring.ratio [--total 60] [--parts 50] [--percent 2] [--lanes 20] [--casts 6] [--seed 1]
"""

from __future__ import annotations

import click
import numpy as np

from station.core.guidance.task import Strength
from tests.benchmarks.pouring.guided import GuidedBench
from tests.benchmarks.pouring.liquids import LIQUIDS
from tests.benchmarks.pouring.robust import USUAL
from tests.benchmarks.pouring.scales import KINDS
from tests.benchmarks.pouring.worlds import GUIDED, Own, lots_of

PARTNERS = {"isocyanate": "polyol", "polyol": "isocyanate", "silicone": "isocyanate", "paste": "silicone"}
"""The first component, and the one that follows."""


@click.command()
@click.option("--total", "total_g", default=60.0, help="Grams of both together.")
@click.option("--parts", default=100.0, help="Of the second to 100 of the first, by weight.")
@click.option("--percent", default=2.0, help="The sheet's tolerance: ± % of each component.")
@click.option("--lanes", default=20, help="People for each pair of liquids and scale.")
@click.option("--casts", default=6)
@click.option("--seed", default=1)
def main(total_g: float, parts: float, percent: float, lanes: int, casts: int, seed: int) -> None:  # noqa: PLR0917  # one for each option
    """Prints the share of casts whose true ratio is within the tolerance: the first casts, and from the third on."""
    rng = np.random.default_rng(seed)
    lots = lots_of(list(USUAL), list(PARTNERS), lanes)
    assert set(PARTNERS) <= set(LIQUIDS)
    first_g = total_g / (1 + parts / 100)
    seconds = [(PARTNERS[liquid], scale) for liquid, scale in lots]
    worlds = [Own(rng, some, first_g, GUIDED, {}) for some in (lots, seconds)]
    scales = [KINDS[scale] for _, scale in lots]
    firsts = [GuidedBench(first_g, percent, kind.d_g, kind.lag_s, Strength.EVEN) for kind in scales]
    lasts = [GuidedBench(first_g, percent, kind.d_g, kind.lag_s, Strength.CAREFUL) for kind in scales]
    told, took = [], []
    for number in range(casts):
        one = worlds[0].pour(number, firsts)
        for bench, last in zip(firsts, lasts, strict=True):
            shown = bench.accepted_g if bench.accepted_g is not None else first_g
            last.aim_at(shown * parts / 100, percent)
        two = worlds[1].pour(number, lasts)
        for bench in (*firsts, *lasts):
            bench.next_pour()
        told.append(100 * (two.final_g / one.final_g / (parts / 100) - 1))
        took.append(one.took_s + two.took_s)
    for label, some, times in (("first casts", told[:1], took[:1]), ("from the third", told[2:], took[2:])):
        off, seconds_taken = np.concatenate(some), np.concatenate(times)
        click.echo(
            f"{label:<15} n {len(off):5d}  ratio within {percent:g} % in {100 * np.mean(np.abs(off) <= percent):6.2f} %"
            f"  too much of the second {100 * np.mean(off > percent):5.2f} %  median off {np.median(np.abs(off)):.2f} %"
            f"  {np.nanmean(seconds_taken):.1f} s of pouring"
        )


if __name__ == "__main__":
    main()
