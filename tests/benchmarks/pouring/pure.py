"""Thousands of pours with the pure guidance against simulated people, in a line per scale and liquid.

python -m tests.benchmarks.pouring.pure [--simulator PATH] [--lanes 60] [--pours 8] [--target 62.4] ...
"""

from __future__ import annotations

import time
from pathlib import Path

import click
import numpy as np

from station.core.guidance.task import Strength
from tests.benchmarks.pouring.scales import KINDS
from tests.benchmarks.pouring.tally import chosen, joined, line
from tests.benchmarks.pouring.worlds import GUIDED, MODES, liquids_of, lots_of, poured


@click.command()
@click.option("--simulator", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--lanes", default=30, help="People for each pair of liquid and scale.")
@click.option("--pours", default=8)
@click.option("--seed", default=1)
@click.option("--target", "target_g", default=62.4)
@click.option("--percent", default=1.0)
@click.option("--scales", default="fine quick,fine slow,tenth quick,tenth slow", help=", ".join(KINDS))
@click.option("--liquids", default="", help="All that the simulator knows, unless named.")
@click.option("--strength", default="EVEN", type=click.Choice([s.name for s in Strength]))
@click.option("--mode", default=GUIDED, type=click.Choice(MODES), help="Else: people who pour without guidance.")
@click.option("--lag-told", default=1.0, help="The lag that the station is told, as a part of the true one.")
@click.option(
    "--person", default="", help="name=value,... as the simulator knows them; ours: deaf, noise, drift, bumps."
)
def main(  # noqa: PLR0917  # one for each option
    simulator: Path | None, lanes: int, pours: int, seed: int, target_g: float, percent: float, scales: str,
    liquids: str, strength: str, mode: str, lag_told: float, person: str,
) -> None:  # fmt: skip
    """Prints what came of the first pours, of those from the third on, and of these by scale and by liquid."""
    began = time.perf_counter()
    names = liquids.split(",") if liquids else liquids_of(simulator)
    kinds = scales.split(",")
    lots = lots_of(kinds, names, lanes)
    traits = {key: float(value) for key, value in (item.split("=") for item in person.split(",") if item)}
    done = poured(simulator, seed, lots, target_g, percent, pours, Strength[strength], mode, lag_told, traits)
    tolerance = target_g * percent / 100
    click.echo(line("first pour", done[0], target_g, tolerance))
    later = done[2:]
    if not later:
        return
    click.echo(line("from the third", joined(later), target_g, tolerance))
    for which, at in (*((scale, 1) for scale in kinds), *((name, 0) for name in names)):
        mask = np.array([lot[at] == which for lot in lots])
        click.echo(line(which, joined([chosen(pour, mask) for pour in later]), target_g, tolerance))
    click.echo(f"{time.perf_counter() - began:.0f} s")


if __name__ == "__main__":
    main()
