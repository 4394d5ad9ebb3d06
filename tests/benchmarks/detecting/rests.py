"""Rest after a stop: verdicts while the stream still dies or the filter still creeps, against the time waited, by rule.

A rule: a window in which nothing moved by more than a few d, and how much may still be owed. Each is tried on the same
lines: 60 g jobs ± 1 % that end as guided pours do, about their target with 0.4 of the tolerance as standard deviation.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from station.core.cups import ENOUGH_RESTS
from station.core.mass import Mass
from station.core.material import ScaleCard
from station.core.messages import Reading, Stability
from station.core.moment import Moment
from station.core.pan import Pan, with_reading
from station.core.rest import a_drop_decides, drops_may_come, flicker_mg, quiet, settle_s, still_owed_mg
from tests.benchmarks.detecting.contacts import Bare
from tests.benchmarks.detecting.filters import DT, Array, Kind, Line, lines
from tests.benchmarks.pouring.liquids import LIQUIDS
from tests.benchmarks.pouring.own import OnePour, People
from tests.play import BOOT, DAY

JOB_G, PART = 62.4, 0.01
STOP_S, BEFORE_S, AFTER_S = 8.0, 2.0, 14.0
SLOWER_FROM, STOPPED_AT = 0.75, 0.98
SPREAD, SHORT = 0.4, 0.05
SHORT_VERDICT_S = 1.0
"""Beside the lag, so long after a stop nobody is asked for more, as a rule of the bench."""


@dataclass(frozen=True, slots=True)
class Rule:
    """Window and width as multiples of what the core takes, and whether counts what is owed, and what may drip."""

    window: float
    width: float
    owed: bool
    drops: bool = True

    @property
    def title(self) -> str:
        counts = " and ".join(["owed"] * self.owed + ["drops"] * self.drops) or "nothing else"
        return f"window × {self.window:g}, {self.width:g} × flicker, {counts}"


OURS = Rule(1.0, 1.0, True)
HASTY = Rule(1.0, 1.0, True, drops=False)
RULES = (
    OURS,
    HASTY,
    Rule(0.5, 1.0, True),
    Rule(1.0, 1.0, owed=False, drops=False),
    Rule(1.5, 1.0, True, drops=False),
    Rule(2.0, 1.0, True, drops=False),
    Rule(1.0, 2.0, True),
)


@dataclass(frozen=True, slots=True)
class Verdicts:
    """Parts of all pours: verdict wrong; more than 1 d still to come; never. Seconds from true rest to the verdict.

    `unhurried`: how many verdicts are wrong by what the scale shows 10 s later; no rule can do better.
    """

    pours: int
    wrong: float
    coming: float
    never: float
    waited_s: Array
    unhurried: float


@dataclass(frozen=True, slots=True)
class Stopped:
    """Pours about their stop: load in g, a row each 10 ms, a column a lane, told to stop at `STOP_S`; targets in g."""

    loads: Array
    targets: Array


def stopped(number: int, job_g: float, rng: np.random.Generator) -> Stopped:
    """Pours that slow down and end, each with a target near which it ended."""
    people = People(rng, [list(LIQUIDS)[i % len(LIQUIDS)] for i in range(number)], job_g)
    bare = Bare()
    sim = OnePour(people, bare, rng)  # type: ignore[arg-type]
    stop_s = np.full(number, np.inf)
    while not sim.t > stop_s.max() + AFTER_S:
        sim.step()
        for lane in np.nonzero((sim.left >= SLOWER_FROM * job_g) & (sim.pace == 0))[0]:
            sim.paced(lane, 0.9)
        for lane in np.nonzero((sim.left >= STOPPED_AT * job_g) & np.isinf(stop_s))[0]:
            sim.stopped(lane, 0.0)
            stop_s[lane] = sim.t
    first = np.rint((stop_s - STOP_S) / DT).astype(int)
    rows = first + np.arange(round((STOP_S + AFTER_S) / DT))[:, None]
    loads = np.array(bare.rows)[np.maximum(rows, 0), np.arange(number)]
    off = PART * job_g * (SPREAD * rng.standard_normal(number) - SHORT)
    return Stopped(loads, loads[-1] - off)


def job_g(kind: Kind) -> float:
    """A dose that this scale can hold to 1 %: its tolerance is some 6 steps or more."""
    return max(JOB_G, 624 * kind.d_g)


def measure(kind: Kind, number: int, seed: int, rules: tuple[Rule, ...] = RULES) -> dict[Rule, Verdicts]:
    """All these rules on the same pours."""
    rng = np.random.default_rng(seed)
    pours = stopped(number, job_g(kind), rng)
    sent = lines(pours.loads, kind, rng)
    return {rule: _judged(rule, kind, pours, sent) for rule in rules}


def _judged(rule: Rule, kind: Kind, pours: Stopped, sent: list[list[Line]]) -> Verdicts:
    waited, wrong, coming, never, unhurried = [], 0, 0, 0, 0
    number = len(sent)
    for lane in range(number):
        target, load = float(pours.targets[lane]), pours.loads[:, lane]
        final = float(load[-1])
        low, high = target * (1 - PART), target * (1 + PART)
        late = [line.grams for line in sent[lane] if line.at_s > STOP_S + 10]
        unhurried += _side(float(np.median(late)), low, high) != _side(final, low, high)
        near = [line for line in sent[lane] if line.at_s > STOP_S - BEFORE_S]
        found = _verdict(rule, kind.card, near, (low, high))
        if found is None:
            never += 1
            continue
        at_s, side = found
        settled = float(np.argmax(load >= final - kind.d_g / 2)) * DT
        wrong += side != _side(final, low, high)
        coming += final - load[int(at_s / DT)] > kind.d_g
        waited.append(at_s - settled)
    share = number or 1
    return Verdicts(number, wrong / share, coming / share, never / share, np.array(waited), unhurried / share)


def _side(grams: float, low: float, high: float) -> int:
    return -1 if grams < low else int(grams > high)


def _verdict(rule: Rule, card: ScaleCard, near: list[Line], window: tuple[float, float]) -> tuple[float, int] | None:
    """When the bench would speak, and what it would say: too little, in, too much. The order of `weighing`."""
    pan, rests = Pan(), 0
    low, high = window
    owes = max(0.15 * (high - low) / 2 * 1000, 0.4 * card.readability.mg)
    for line in near:
        now = Moment(line.at_s, BOOT, DAY, True)
        stability = Stability.STABLE if line.stable else Stability.UNSAID
        pan = with_reading(pan, Reading(Mass.nearest(line.grams), stability), now, flicker_mg(card))
        if line.at_s < STOP_S:
            continue
        load = quiet(pan.window, rule.window * settle_s(card), round(rule.width * flicker_mg(card)))
        rests = 0 if load is None else rests + 1
        if load is None:
            continue
        decides = rule.drops and a_drop_decides(load, Mass.nearest(low), Mass.nearest(high), card)
        if decides and drops_may_come(pan.window, card, pan.poured_until_s):
            continue
        side = _side(load.g, low, high)
        if side < 0:
            if line.at_s > STOP_S + card.lag_s + SHORT_VERDICT_S:
                return line.at_s, side
        elif rests >= ENOUGH_RESTS and not (rule.owed and still_owed_mg(pan.window, card, pan.poured_until_s) > owes):
            return line.at_s, side
    return None
