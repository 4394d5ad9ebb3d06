"""Thousands of pours with the pure guidance against simulated people, in a line per scale and liquid.

python -m tests.benchmarks.pouring.pure [--simulator PATH] [--lanes 60] [--pours 8] [--target 62.4] ...
"""

from __future__ import annotations

import time
from pathlib import Path

import click
import numpy as np

from station.core.guidance.task import Strength
from tests.benchmarks.pouring.given import Given
from tests.benchmarks.pouring.guided import GuidedBench
from tests.benchmarks.pouring.liquids import LIQUIDS
from tests.benchmarks.pouring.own import OnePour, People
from tests.benchmarks.pouring.scales import KINDS, Kind, Scales
from tests.benchmarks.pouring.tally import Pours, chosen, joined, line

GIVES_UP_S = 40.0


class Own:
    """The lanes of our own simulator."""

    def __init__(
        self,
        rng: np.random.Generator,
        lanes: list[tuple[str, Kind]],
        target_g: float,
        person: dict[str, float],
    ) -> None:
        self.rng, self.kinds = rng, [kind for _, kind in lanes]
        self.noise, self.drift = person.pop("noise", 1.0), person.pop("drift", 1.0)
        self.people = People(rng, [liquid for liquid, _ in lanes], target_g, **person)
        self.most_s = GIVES_UP_S + 5 * target_g / float(self.people.coarse.min())

    def pour(self, number: int, benches: list[GuidedBench]) -> Pours:
        del number
        scales = Scales(self.rng, self.kinds, self.noise, self.drift)
        sim = OnePour(self.people, scales, self.rng)
        while sim.t < self.most_s and not sim.done.all():
            for lane in sim.step():
                if sim.done[lane]:
                    continue
                said = benches[lane].reading(sim.t, float(scales.shown[lane]), bool(scales.steady[lane]))
                if said is None:
                    continue
                pace, stop_in_s, accepted = said
                if pace is not None:
                    sim.paced(lane, pace)
                if stop_in_s is not None:
                    sim.stopped(lane, stop_in_s)
                if accepted:
                    sim.accepted(lane)
        for _ in range(100):
            sim.step()
        sim.first = np.where(np.isnan(sim.first), sim.left, sim.first)
        return Pours(sim.first, sim.left, sim.took_s, sim.attempts)


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
@click.option("--mode", default="guided", help="Of a given simulator: people who pour without guidance.")
@click.option("--lag-told", default=1.0, help="The lag that the station is told, as a part of the true one.")
@click.option("--person", default="", help="name=value,... as the simulator knows them; ours: deaf, noise, drift.")
def main(  # noqa: PLR0917  # one for each option
    simulator: Path | None, lanes: int, pours: int, seed: int, target_g: float, percent: float, scales: str,
    liquids: str, strength: str, mode: str, lag_told: float, person: str,
) -> None:  # fmt: skip
    """Prints what came of the first pours, of those from the third on, and of these by scale and by liquid."""
    began = time.perf_counter()
    rng = np.random.default_rng(seed)
    known = list(LIQUIDS) if simulator is None else Given.liquids(simulator)
    names = liquids.split(",") if liquids else known
    lots = [(liquid, KINDS[scale], scale) for scale in scales.split(",") for liquid in names for _ in range(lanes)]
    pairs = [(liquid, kind) for liquid, kind, _ in lots]
    traits = {key: float(value) for key, value in (item.split("=") for item in person.split(",") if item)}
    if simulator is None:
        world: Own | Given = Own(rng, pairs, target_g, traits)
    else:
        world = Given(simulator, rng, pairs, target_g, percent / 100, mode, traits)
    benches = [GuidedBench(target_g, percent, kind.d_g, kind.lag_s * lag_told, Strength[strength]) for _, kind in pairs]
    done = []
    for number in range(pours):
        done.append(world.pour(number, benches))
        for bench in benches:
            bench.next_pour()
    tolerance = target_g * percent / 100
    click.echo(line("first pour", done[0], target_g, tolerance))
    later = done[2:]
    if not later:
        return
    click.echo(line("from the third", joined(later), target_g, tolerance))
    for which, at in (*((scale, 2) for scale in scales.split(",")), *((name, 0) for name in names)):
        mask = np.array([lot[at] == which for lot in lots])
        click.echo(line(which, joined([chosen(pour, mask) for pour in later]), target_g, tolerance))
    click.echo(f"{time.perf_counter() - began:.0f} s")


if __name__ == "__main__":
    main()
