"""Guidance where things are worse than assumed, beside people who pour without it, in a line each; third pour onwards.

python -m tests.benchmarks.pouring.robust [--simulator PATH] [--lanes 10] [--pours 5] [--seed 1]
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

import click
import numpy as np

from station.core.guidance.task import Strength
from tests.benchmarks.pouring.tally import Pours, joined
from tests.benchmarks.pouring.worlds import GUIDED, MODES, liquids_of, lots_of, poured

USUAL = ("fine quick", "fine slow", "tenth quick", "tenth slow")
TARGET_G, PERCENT = 62.4, 1.0


@dataclass(frozen=True, slots=True)
class Case:
    """What is worse: what the station is told of the lag, what each simulator calls it, other scales, another job."""

    lag_told: float = 1.0
    own: Mapping[str, float] = field(default_factory=dict)
    given: Mapping[str, float] = field(default_factory=dict)
    scales: tuple[str, ...] = USUAL
    target_g: float = TARGET_G


CASES = {
    "as assumed": Case(),
    "told half of the lag": Case(lag_told=0.5),
    "told twice the lag": Case(lag_told=2.0),
    "half deaf to the pace": Case(own={"deaf": 0.5}, given={"comply": 0.5}),
    "deaf to the pace": Case(own={"deaf": 1.0}, given={"comply": 0.0}),
    "noise x 3": Case(own={"noise": 3.0}, given={"noise": 3.0}),
    "drift x 10": Case(own={"drift": 10.0}, given={"drift": 3.0}),
    "bumps and touches x 5": Case(own={"bumps": 5.0}, given={"bump_rate": 5 / 60, "touch_rate": 5 / 120}),
    "5 readings a second": Case(scales=("five a second",)),
    "1 g, 300 g job": Case(scales=("one gram",), target_g=300.0),
}


def shares(pours: Pours, target_g: float) -> tuple[float, float]:
    """In the window in the end, over it: %."""
    off, tolerance = pours.final_g - target_g, target_g * PERCENT / 100
    return 100 * float(np.mean(np.abs(off) <= tolerance)), 100 * float(np.mean(off > tolerance))


@click.command()
@click.option("--simulator", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--lanes", default=10, help="People for each pair of liquid and scale, of four scales.")
@click.option("--pours", default=5)
@click.option("--seed", default=1)
@click.option("--only", default="", help="The beginning of the names of cases.")
def main(simulator: Path | None, lanes: int, pours: int, seed: int, only: str) -> None:
    """Prints for each case: accepted in the window and over it, led, unled, and unled with practice."""
    liquids = liquids_of(simulator)
    for name, case in CASES.items():
        if not name.startswith(only):
            continue
        people = lanes * len(USUAL) // len(case.scales)
        lots = lots_of(list(case.scales), liquids, people)
        told = []
        for mode in MODES:
            traits = dict(case.own if simulator is None else case.given)
            done = poured(
                simulator, seed, lots, case.target_g, PERCENT, pours, Strength.EVEN, mode, case.lag_told, traits
            )
            within, over = shares(joined(done[2:]), case.target_g)
            told.append(f"{'led' if mode == GUIDED else mode} in {within:5.1f} over {over:4.1f}")
        click.echo(f"{name:<22} n {len(lots) * (pours - 2):5d}  " + "  ".join(told))


if __name__ == "__main__":
    main()
