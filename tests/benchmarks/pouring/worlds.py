"""Worlds of lanes, each a person with one liquid at one scale: our own simulator, or one that is given by its path."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from station.core.guidance.task import Strength
from tests.benchmarks.pouring.given import Given
from tests.benchmarks.pouring.guided import GuidedBench
from tests.benchmarks.pouring.liquids import LIQUIDS
from tests.benchmarks.pouring.own import OnePour, People
from tests.benchmarks.pouring.scales import KINDS, Kind, Scales
from tests.benchmarks.pouring.tally import Pours
from tests.benchmarks.pouring.watcher import Watcher

GIVES_UP_S = 40.0
GUIDED, NAIVE, PRACTISED = "guided", "naive", "skilled"
MODES = (GUIDED, NAIVE, PRACTISED)

Lot = tuple[str, str]
"""The liquid and the kind of scale of a lane."""


class Own:
    """The lanes of our own simulator."""

    def __init__(
        self, rng: np.random.Generator, lots: list[Lot], target_g: float, mode: str, traits: dict[str, float]
    ) -> None:
        self.rng, self.kinds, self.mode = rng, [KINDS[scale] for _, scale in lots], mode
        self.traits = {key: traits.get(key, 1.0) for key in ("noise", "drift", "bumps")}
        deaf = traits.get("deaf", 0.0)
        self.people = People(rng, [liquid for liquid, _ in lots], target_g, deaf=deaf, watching=mode != GUIDED)
        self.most_s = GIVES_UP_S + 5 * target_g / float(self.people.coarse.min())

    def watchers(self, target_g: float, tolerance_g: float) -> list[Watcher]:
        """Those who pour without guidance."""
        people, practised = self.people, self.mode == PRACTISED
        return [
            Watcher(self.rng, target_g, tolerance_g, kind.d_g, float(coarse), float(thin), practised)
            for kind, coarse, thin in zip(self.kinds, people.coarse, 0.5 * people.steady, strict=True)
        ]

    def pour(self, number: int, benches: list[GuidedBench] | list[Watcher]) -> Pours:
        """One pour of every lane."""
        del number
        scales = Scales(self.rng, self.kinds, **self.traits)
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


def liquids_of(simulator: Path | None) -> list[str]:
    """The names of all liquids of this world."""
    return list(LIQUIDS) if simulator is None else Given.liquids(simulator)


def lots_of(scales: list[str], liquids: list[str], people: int) -> list[Lot]:
    """So many people for each pair of scale and liquid."""
    return [(liquid, scale) for scale in scales for liquid in liquids for _ in range(people)]


def poured(  # noqa: PLR0917  # what a run is
    simulator: Path | None, seed: int, lots: list[Lot], target_g: float, percent: float, pours: int,
    strength: Strength = Strength.EVEN, mode: str = GUIDED, lag_told: float = 1.0,
    traits: dict[str, float] | None = None,
) -> list[Pours]:  # fmt: skip
    """So many pours of every lane, one after the other, each person learning or being learned from."""
    rng, traits = np.random.default_rng(seed), traits or {}
    kinds: list[Kind] = [KINDS[scale] for _, scale in lots]
    benches: list[GuidedBench] | list[Watcher]
    benches = [GuidedBench(target_g, percent, kind.d_g, kind.lag_s * lag_told, strength) for kind in kinds]
    if simulator is None:
        world: Own | Given = Own(rng, lots, target_g, mode, traits)
        if isinstance(world, Own) and mode != GUIDED:
            benches = world.watchers(target_g, target_g * percent / 100)
    else:
        pairs = [(liquid, kind) for (liquid, _), kind in zip(lots, kinds, strict=True)]
        world = Given(simulator, rng, pairs, target_g, percent / 100, mode, traits)
    done = []
    for number in range(pours):
        done.append(world.pour(number, benches))  # type: ignore[arg-type]
        for bench in benches:
            bench.next_pour()
    return done
