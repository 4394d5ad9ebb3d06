"""A vectorised simulator that lies elsewhere, by its path: what is asked of such a file, and how one pour of it is run.

It offers `make_people(n, rng, liquid=, target=, tol=, d=, rate=, lag=, filt=, **person)`, `PourSim(people, rng, scale,
number)` and `run(sim, benches)`; a bench's `reading(t, grams, stable)` gives pace, seconds to the stop, accepted.
"""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from typing import Any

import numpy as np

from tests.benchmarks.pouring.guided import GuidedBench
from tests.benchmarks.pouring.scales import Kind
from tests.benchmarks.pouring.tally import Pours


def module(path: Path) -> Any:
    spec = importlib.util.spec_from_file_location("given_simulator", path)
    if spec is None or spec.loader is None:
        raise SystemExit(f"{path} is no Python file.")
    found = importlib.util.module_from_spec(spec)
    sys.modules["given_simulator"] = found
    spec.loader.exec_module(found)
    return found


class Given:
    """The lanes of a given simulator; `mode` "guided", or one of its people who pour without us."""

    def __init__(  # noqa: PLR0917  # all that makes a lane
        self,
        path: Path,
        rng: np.random.Generator,
        lanes: list[tuple[str, Kind]],
        target_g: float,
        part: float,
        mode: str,
        traits: dict[str, float],
    ) -> None:
        self.sim, self.rng, self.mode = module(path), rng, mode
        kinds = [kind for _, kind in lanes]
        filt = ["ma" if kind.poles == 0 else "iir" for kind in kinds]
        person: dict[str, Any] = dict(traits)
        if "noise" in person:  # how many times the usual, as with our own scales
            person["noise"] *= np.where(np.array([k.d_g for k in kinds]) < 0.05, 0.6, 0.25)
        self.people = self.sim.make_people(
            len(lanes), rng, liquid=np.array([liquid for liquid, _ in lanes]), target=target_g, tol=part,
            d=np.array([k.d_g for k in kinds]), rate=np.array([k.rate_hz for k in kinds]),
            lag=np.array([k.lag_s for k in kinds]), filt=np.array(filt), mode=mode, **person,
        )  # fmt: skip

    @staticmethod
    def liquids(path: Path) -> list[str]:
        return list(module(path).LIQUIDS)

    def pour(self, number: int, benches: list[GuidedBench]) -> Pours:
        sim = self.sim.PourSim(self.people, self.rng, None, number)
        found = self.sim.run(sim, benches if self.mode == "guided" else None)
        self.people = sim.P
        return Pours(found["first"], found["final"], found["t_accept"], found["att"])
