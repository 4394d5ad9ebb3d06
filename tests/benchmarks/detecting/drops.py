"""Single drops after an accepted weighing: which are weighed again; and whether a stick that stirs is taken for one."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from station.core import events as ev
from station.core.mass import Mass
from station.core.rest import flicker_mg
from tests.benchmarks.detecting.filters import DT, Kind, lines
from tests.benchmarks.detecting.loads import blank, bump, stirring
from tests.benchmarks.detecting.stand import A_G, CUP_G, heard, weighing_reactive, with_window

DROPS_G = (0.05, 0.12)
FALLS_S = (3.0, 10.0)
"""Accepted after about a second: the drop falls in the time for which the weighing is still watched."""

END_S = 14.0


BEFORE_S = 4.0
"""A struck table shakes so long before a drop, or less."""

BEGINS_S = (1.5, 6.0)
"""Accepted after about a second, stirred from then on."""


@dataclass(frozen=True, slots=True)
class Drops:
    """Drops above the limit, of them weighed again; scenes without such a drop, of them opened again."""

    above: int
    seen: int
    without: int
    false: int


def measure(kind: Kind, number: int, seed: int, *, stirred: bool = False, struck: bool = False) -> Drops:
    """The last dose of a cast lies in its cup; in half of the scenes a drop follows, 1.5 times the limit or more.

    `stirred`: no drop follows, but a stick stirs. `struck`: the table is struck before the drop.
    """
    rng = np.random.default_rng(seed)
    d = kind.d_g
    tolerance = max(3 * d, 0.1)
    limit = max(flicker_mg(kind.card) / 1000 + d, tolerance / 4)
    play = weighing_reactive(kind.card)
    dose = Mass.grams(5)
    half = Mass.nearest(tolerance)
    play.bench = with_window(play.bench, dose, dose - half, dose + half)
    scenes, sizes = [], []
    for lane in range(number):
        load = blank(END_S) + CUP_G + A_G + 5.0 - 0.3 * tolerance
        size = 0.0
        if stirred:
            stirring(load, float(rng.uniform(*BEGINS_S)), rng)
        elif lane % 2:
            size = max(float(rng.uniform(*DROPS_G)), 1.5 * limit)
            at_s = float(rng.uniform(*FALLS_S))
            load[round(at_s / DT) :] += size
            if struck:
                bump(load, float(rng.uniform(max(1.5, at_s - BEFORE_S), at_s)), rng)
        scenes.append(load)
        sizes.append(size)
    sent = lines(np.stack(scenes, axis=1), kind, rng)
    above = seen = without = false = 0
    for lane, size in enumerate(sizes):
        _, entries, _ = heard(play, sent[lane])
        opened = any(isinstance(e.event, ev.Reopened) for e in entries)
        above, seen = above + (size > 0), seen + (opened and size > 0)
        without, false = without + (size == 0), false + (opened and size == 0)
    return Drops(above, seen, without, false)
