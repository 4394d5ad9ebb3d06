"""What hands and benches put on a load cell: bumps, touches, leans, cups set down. Grams over rows of 10 ms.

Assumed, from no source: a bump is a struck table (5 to 14 Hz, gone in half a second, 4 g in the middle), a touch lasts
0.2 to 1.2 s (4 g in the middle, up or down), a lean 0.3 to 2 s with 20 to 500 g, and a hand that presses trembles by
3 %. A cup of 6 to 80 g is set down within 0.3 s by a hand that presses 10 to 300 g and lets go within 1 s. A stick
stirs 1 to 3 times a second for 0.7 to 4 s with 1 to 40 g up and down, then rests for 0.5 to 4 s, in the hand or on the
rim, and the cup feels up to 1.5 g of that.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from tests.benchmarks.detecting.filters import DT

Array = Any


def blank(seconds: float) -> Array:
    return np.zeros(round(seconds / DT))


def bump(load: Array, at_s: float, rng: np.random.Generator) -> None:
    """A struck table, added to `load`."""
    since = np.arange(len(load)) * DT - at_s
    size, hertz = 4 * np.exp(0.9 * rng.standard_normal()), rng.uniform(5, 14)
    on = since > 0
    load[on] += size * np.exp(-since[on] / 0.13) * np.sin(2 * np.pi * hertz * since[on])


def touch(load: Array, at_s: float, rng: np.random.Generator) -> float:
    """A sleeve or finger; gives when it is over."""
    size = 4 * np.exp(0.8 * rng.standard_normal()) * (1 if rng.random() < 0.7 else -1)
    lasts = rng.uniform(0.2, 1.2)
    part = (np.arange(len(load)) * DT - at_s) / lasts
    on = (part > 0) & (part < 1)
    load[on] += size * np.sin(np.pi * part[on]) ** 2
    return at_s + lasts


def stirring(load: Array, from_s: float, rng: np.random.Generator) -> None:
    """A stick in the cup from then on: it stirs and rests by turns."""
    t = np.arange(len(load)) * DT
    at_s = from_s
    while at_s < t[-1]:
        lasts, rests = rng.uniform(0.7, 4.0), rng.uniform(0.5, 4.0)
        on = (t >= at_s) & (t < at_s + lasts)
        size, hertz = np.exp(rng.uniform(np.log(1), np.log(40))), rng.uniform(1, 3)
        load[on] += size * (
            0.3 + np.sin(2 * np.pi * hertz * (t[on] - at_s)) * (1 + 0.2 * rng.standard_normal(on.sum()))
        )
        held = (t >= at_s + lasts) & (t < at_s + lasts + rests)
        load[held] += rng.uniform(0.0, 1.5) * (1 + rng.choice([0.0, 0.03]) * rng.standard_normal(held.sum()))
        at_s += lasts + rests


def lean(load: Array, at_s: float, rng: np.random.Generator) -> float:
    """A hand that leans on the pan, hard and for a while; gives when it is over."""
    size, lasts = np.exp(rng.uniform(np.log(20), np.log(500))), rng.uniform(0.3, 2.0)
    return _pressed(load, at_s, lasts, size, rng)


def set_down(load: Array, at_s: float, grams: float, rng: np.random.Generator) -> float:
    """A cup of `grams` set down by a hand; gives when the hand is off it."""
    since = np.arange(len(load)) * DT - at_s
    load += grams * np.clip(since / rng.uniform(0.05, 0.3), 0.0, 1.0)
    return _pressed(load, at_s, rng.uniform(0.2, 1.0), np.exp(rng.uniform(np.log(10), np.log(300))), rng)


def _pressed(load: Array, at_s: float, lasts: float, size: float, rng: np.random.Generator) -> float:
    since = np.arange(len(load)) * DT - at_s
    edge = min(0.15, lasts / 3)
    shape = np.clip(np.minimum(since, lasts - since) / edge, 0.0, 1.0)
    tremble = np.zeros(len(load))
    pull = np.exp(-DT / 0.3)
    noise = 0.03 * np.sqrt(1 - pull**2) * rng.standard_normal(len(load))
    for i in range(1, len(load)):
        tremble[i] = pull * tremble[i - 1] + noise[i]
    load += size * shape * (1 + tremble)
    return at_s + lasts
