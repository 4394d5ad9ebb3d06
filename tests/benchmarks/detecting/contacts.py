"""First contact: how well it is dated, how often a bump or a hand is taken for one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from station.core import events as ev
from tests.benchmarks.detecting.filters import DT, Kind, lines
from tests.benchmarks.detecting.loads import blank, bump, touch
from tests.benchmarks.detecting.stand import A_G, CUP_G, heard, weighing_reactive
from tests.benchmarks.pouring.liquids import LIQUIDS
from tests.benchmarks.pouring.own import OnePour, People

DOSE_G = 20.0
QUIET_S = 15.0
EVERY_S = 5.0
"""Bumps and touches, one every five seconds: twelve a minute, so that there are enough of them."""

POUR_S = 12.0
LANDED_G = 0.02
"""So much must have landed for truth to say that it began: less than half of the smallest drop."""

Array = Any


@dataclass(frozen=True, slots=True)
class Contacts:
    """Errors in s (nan: never found), bumps and touches, and how many of each were taken for a pour."""

    error_s: Array
    bumps: int
    touches: int
    false_bumps: int
    false_touches: int


class Bare:
    """In the place of scales: the load itself, for each 10 ms."""

    def __init__(self) -> None:
        self.rows: list[Array] = []

    def step(self, load_g: Array) -> Array:
        self.rows.append(load_g.copy())
        return np.zeros(0, int)


def poured(number: int, dose_g: float, seconds: float, rng: np.random.Generator) -> tuple[Array, Array]:
    """Pours without a stop: load over rows of 10 ms, and when the first of it landed, in s."""
    people = People(rng, [list(LIQUIDS)[i % len(LIQUIDS)] for i in range(number)], dose_g)
    bare = Bare()
    sim = OnePour(people, bare, rng)  # type: ignore[arg-type]
    while sim.t < seconds:
        sim.step()
    loads = np.array(bare.rows)
    return loads, np.argmax(loads > LANDED_G, axis=0) * DT


def disturbed(seconds: float, rng: np.random.Generator) -> tuple[Array, list[float], list[float]]:
    """Bumps and touches in turn, each at a time of its own."""
    load, bumps, touches = blank(seconds), [], []
    for k in range(int(seconds / EVERY_S)):
        at = k * EVERY_S + rng.uniform(0.8, 1.4)
        if rng.random() < 0.5:
            bump(load, at, rng)
            bumps.append(at)
        else:
            touch(load, at, rng)
            touches.append(at)
    return load, bumps, touches


def measure(kind: Kind, number: int, seed: int) -> Contacts:
    """`number` scenes: a quarter of a minute of bumps and touches, then a pour."""
    rng = np.random.default_rng(seed)
    loads, landed = poured(number, DOSE_G, POUR_S, rng)
    before = [disturbed(QUIET_S, rng) for _ in range(number)]
    quiet = np.stack([load for load, _, _ in before], axis=1)
    sent = lines(CUP_G + A_G + np.concatenate([quiet, loads]), kind, rng)
    play = weighing_reactive(kind.card)
    errors = np.full(number, np.nan)
    false_bumps = false_touches = 0
    for lane in range(number):
        found = _found(play, [line for line in sent[lane] if line.at_s < QUIET_S + landed[lane]])
        if found is not None:
            near = [(found - at, False) for at in before[lane][1]] + [(found - at, True) for at in before[lane][2]]
            was_touch = min((abs(since), touched) for since, touched in near)[1]
            false_touches += was_touch
            false_bumps += not was_touch
            continue
        found = _found(play, [line for line in sent[lane] if line.at_s > QUIET_S - 4])
        if found is not None:
            errors[lane] = found - QUIET_S - landed[lane]
    bumps, touches = (sum(len(scene[i]) for scene in before) for i in (1, 2))
    return Contacts(errors, bumps, touches, false_bumps, false_touches)


def _found(play: Any, sent: list[Any]) -> float | None:
    _, entries, began = heard(play, sent)
    contacts = [e.event.at.boot_s - began.boot_s for e in entries if isinstance(e.event, ev.FirstContact)]
    return contacts[0] if contacts else None
