"""Cups set down and lifted, and hands that lean on the bare pan or on the cup: what is found, what is mistaken."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from station.core import events as ev
from tests.benchmarks.detecting.filters import DT, Array, Kind, lines
from tests.benchmarks.detecting.loads import blank, bump, lean, set_down
from tests.benchmarks.detecting.stand import awaiting_cup, heard, weighing_first, weighing_reactive

FIRST_LEAN_S, CUP_S, STANDS_S = 1.0, 9.0, 10.0
END_S = CUP_S + STANDS_S
SECOND_LEAN_S, LIFT_S, AFTER_S = 3.0, 10.0, 3.0
TARE_D = 2


@dataclass(frozen=True, slots=True)
class Cups:
    """Of `scenes`: cups tared, within 2 d of the truth; leans on the bare pan tared; seconds after the hand is off."""

    scenes: int
    found: int
    near: int
    false_cups: int
    waited_s: Array


@dataclass(frozen=True, slots=True)
class Lifts:
    """Of `scenes`: cups seen to leave; leans taken for a lifting, leans taken for the first contact."""

    scenes: int
    found: int
    false_lifts: int
    false_contacts: int


def placing(kind: Kind, number: int, seed: int) -> Cups:
    """A lean on the bare pan, a bump; then a cup of 6 to 80 g set down by a hand that presses."""
    rng = np.random.default_rng(seed)
    weights = np.exp(rng.uniform(np.log(6), np.log(80), number))
    scenes, off = [], []
    for grams in weights:
        load = blank(END_S)
        lean(load, FIRST_LEAN_S, rng)
        bump(load, rng.uniform(4.5, 6), rng)
        off.append(set_down(load, CUP_S, float(grams), rng))
        scenes.append(load)
    sent = lines(np.stack(scenes, axis=1), kind, rng)
    play = awaiting_cup(kind.card)
    found = near = false = 0
    waited = []
    for lane, grams in enumerate(weights):
        _, entries, began = heard(play, sent[lane])
        tares = [(e.at.boot_s - began.boot_s, e.event.tare.g) for e in entries if isinstance(e.event, ev.CupTared)]
        if not tares:
            continue
        if tares[0][0] < CUP_S:
            false += 1
            continue
        found += 1
        waited.append(tares[0][0] - off[lane])
        near += abs(tares[0][1] - grams) <= TARE_D * kind.d_g + 1e-9
    return Cups(number, found, near, false, np.array(waited))


def lifting(kind: Kind, number: int, seed: int) -> Lifts:
    """A lean on the cup where the next gram would be first contact; then the cup is lifted."""
    rng = np.random.default_rng(seed)
    scenes = []
    for _ in range(number):
        load = blank(LIFT_S + AFTER_S)
        lean(load, SECOND_LEAN_S, rng)
        bump(load, rng.uniform(6, 8), rng)
        scenes.append(_lifted(load + 24.3 + 200.0, rng))
    sent = lines(np.stack(scenes, axis=1), kind, rng)
    play = weighing_reactive(kind.card)
    found = lifts = contacts = 0
    for lane in range(number):
        before = [line for line in sent[lane] if line.at_s < LIFT_S]
        bench, entries, _ = heard(play, before)
        contacts += any(isinstance(e.event, ev.FirstContact) for e in entries)
        lifts += not bench.pan.proven
        bench, _, _ = heard(play, sent[lane])
        found += bench.pan.lifted is not None
    return Lifts(number, found, lifts, contacts)


def _lifted(load: Array, rng: np.random.Generator) -> Array:
    since = np.arange(len(load)) * DT - LIFT_S
    return load * (1 - np.clip(since / rng.uniform(0.1, 0.3), 0.0, 1.0))


def of_an_empty_cup(kind: Kind, number: int, seed: int) -> int:
    """How many leans on a cup just tared are taken for its lifting or for a pour that is accepted."""
    rng = np.random.default_rng(seed)
    scenes = []
    for _ in range(number):
        load = blank(LIFT_S) + 24.3
        lean(load, SECOND_LEAN_S, rng)
        scenes.append(load)
    sent = lines(np.stack(scenes, axis=1), kind, rng)
    play = weighing_first(kind.card)
    wrong = 0
    for lane in range(number):
        bench, entries, _ = heard(play, sent[lane])
        wrong += not bench.pan.proven or any(isinstance(e.event, ev.Accepted | ev.Recomputed) for e in entries)
    return wrong
