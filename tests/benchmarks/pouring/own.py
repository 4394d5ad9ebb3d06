"""People who pour, and scales that show it late: every lane is one person with one liquid at one scale. numpy, seeded.

Assumed, not measured: how people follow a pace (in steps that they can tell apart, late, and only in part), how steady
a hand is. Tempi are told apart when they differ by some 6 to 9 % (Drake and Botte 1993, from memory): that gives
the steps. Reaction times are lognormal about 0.2 to 0.4 s, as simple auditory reactions with a movement are.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from tests.benchmarks.pouring.liquids import G_M_S2, LIQUIDS
from tests.benchmarks.pouring.scales import Scales

DT = 0.01
NEVER = np.inf
Array = Any


def lognormal(rng: np.random.Generator, median: Array, spread: float, size: int) -> Array:
    return median * np.exp(spread * rng.standard_normal(size))


class People:
    """What stays the same from pour to pour: hand, ear, jug, liquid."""

    def __init__(
        self, rng: np.random.Generator, names: list[str], target_g: float, deaf: float = 0.0, *, watching: bool = False
    ) -> None:
        """`deaf`: part of the pace that nobody follows, on top of what each person ignores; "a little more" is words.

        `watching`: they pour as they want by the display themselves, so they follow that wholly and finely.
        """
        n = self.n = len(names)
        of = [LIQUIDS[name] for name in names]
        size = np.clip((target_g / 60.0) ** 0.35, 0.4, 3.5)
        self.steady = np.array([x.steady_g_s for x in of]) * size * np.exp(0.2 * rng.standard_normal(n))
        self.most = np.array([x.most_g_s for x in of]) * np.clip((target_g / 500.0) ** 0.3, 1.0, 1.6)
        self.coarse = np.clip(target_g / lognormal(rng, 9.0, 0.25, n), 1.5 * self.steady, self.most)
        width = lognormal(rng, 0.018, 0.2, n) * size
        length = lognormal(rng, 0.006, 0.2, n)
        self.film = np.array([x.film_rate(w, s, 0.6) for x, w, s in zip(of, width, length, strict=True)])
        self.drop = np.array([x.drop_g for x in of])
        self.answer = np.array([x.answer_s for x in of])
        self.reaction = lognormal(rng, 0.29, 0.13, n)
        self.closing = lognormal(rng, 0.18, 0.2, n)
        self.hears = np.clip(0.3 + 0.1 * rng.standard_normal(n), 0.15, 0.6)
        self.gentle = 1 - 0.3 * rng.beta(1, 3, n)
        self.follows = self.gentle * (1 - deaf)
        self.bend = np.exp(0.25 * rng.standard_normal(n))
        self.levels = rng.integers(12, 25, n)
        if watching:
            self.follows = self.gentle = self.bend = np.ones(n)
            self.levels = np.full(n, 1000)
        self.unsteady = 0.12 * np.exp(0.3 * rng.standard_normal(n))
        self.fall_s = np.sqrt(2 * rng.uniform(0.06, 0.18, n) / G_M_S2) * (1 + 0.3 * (self.answer > 0.3))


class OnePour:
    """One pour of every lane. `step` goes on by 10 ms and gives the lanes that have a new reading."""

    def __init__(self, people: People, scales: Scales, rng: np.random.Generator) -> None:
        n, self.people, self.scales, self.rng = people.n, people, scales, rng
        self.t, self.n, self.k = 0.0, n, 0
        self.open_s = rng.uniform(1.0, 2.0, n)
        self.close_s, self.stop_s = np.full(n, NEVER), np.full(n, NEVER)
        self.pouring, self.done = np.zeros(n, bool), np.zeros(n, bool)
        self.hand, self.flow, self.lip, self.drip = (np.zeros(n) for _ in range(4))
        self.wobble, self.pace, self.heard_pace = np.zeros(n), np.zeros(n), np.zeros(n)
        self.left, self.landed = np.zeros(n), np.zeros(n)
        self.attempts = np.zeros(n, int)
        self.first, self.took_s = np.full(n, np.nan), np.full(n, np.nan)
        self.began_s = self.open_s.copy()
        self.flight = np.zeros((64, n))
        self.delay = np.clip(np.rint(people.fall_s / DT).astype(int), 1, 62)
        self.lane = np.arange(n)

    def paced(self, lane: int, pace: float) -> None:
        """A pace tone; after a stop it means: go on, gently."""
        self.pace[lane] = pace
        if not self.pouring[lane] and self.attempts[lane] and np.isinf(self.open_s[lane]):
            self.open_s[lane] = self.t + max(0.4, 0.9 + 0.25 * self.rng.standard_normal())

    def stopped(self, lane: int, in_s: float) -> None:
        """The stop sounds in so many seconds; negative: it is withdrawn."""
        self.stop_s[lane] = NEVER if in_s < 0 else self.t + in_s

    def accepted(self, lane: int) -> None:
        """The chirp: the jug goes away."""
        if np.isnan(self.first[lane]):
            self.first[lane] = self.left[lane]
        self.done[lane], self.took_s[lane] = True, self.t - self.began_s[lane]

    def step(self) -> Array:
        p, rng, n = self.people, self.rng, self.n
        self.t += DT
        self.k += 1
        self._hands()
        self.heard_pace += (self.pace - self.heard_pace) * DT / p.hears
        told = np.round(self.heard_pace * p.levels) / p.levels
        least = np.where(self.attempts > 1, 0.5, 1.0) * p.steady
        follows = np.where(self.attempts > 1, p.gentle, p.follows)
        wanted = p.coarse * (1 - follows * (1 - np.maximum(1 - told, 0.0) ** p.bend))
        wanted = np.where(self.attempts > 1, np.minimum(wanted, 2.5 * p.steady + 0.3 * p.coarse), wanted)
        self.wobble += -self.wobble * DT / 0.7 + p.unsteady * math.sqrt(2 * DT / 0.7) * rng.standard_normal(n)
        self.flow += (np.maximum(wanted, least) * np.exp(self.wobble) - self.flow) * DT / p.answer
        self.hand += np.clip(self.pouring - self.hand, -DT / p.closing, DT / 0.35)
        self._over_the_lip(self.flow * self.hand)
        row = self.k % 64
        arrives = self.flight[row].copy()
        self.flight[row] = 0.0
        self.landed += arrives
        speed = G_M_S2 * p.fall_s
        return self.scales.step(self.landed + arrives / DT * speed / G_M_S2)

    def _hands(self) -> None:
        p, rng = self.people, self.rng
        told = (self.stop_s <= self.t) & self.pouring & np.isinf(self.close_s)
        if told.any():
            k = int(told.sum())
            lapse = np.where(rng.random(k) < 0.005, rng.uniform(0.2, 0.6, k), 0.0)
            self.close_s[told] = self.t + lognormal(rng, p.reaction[told], 0.23, k) + lapse
        cancelled = (self.stop_s <= self.t) & ~self.pouring & (self.attempts > 0)
        self.open_s[cancelled] = NEVER
        self.stop_s[self.stop_s <= self.t] = NEVER
        closes = (self.close_s <= self.t) & self.pouring
        self.pouring[closes], self.close_s[closes] = False, NEVER
        opens = (self.open_s <= self.t) & ~self.done
        again = opens & (self.attempts == 1)
        self.first[again] = self.left[again]
        self.attempts[opens] += 1
        self.pouring[opens], self.open_s[opens], self.flow[opens] = True, NEVER, 0.0

    def _over_the_lip(self, fed: Array) -> None:
        """Implicit step of dV/dt = fed - k V³, by Newton; a closed hand lets part of the film run back."""
        p = self.people
        back = np.where(self.hand <= 0, self.lip * DT * np.cbrt(p.film) / 2.5, 0.0)
        have = self.lip - back + fed * DT
        v = self.lip
        for _ in range(3):
            v = v - (v + DT * p.film * v**3 - have) / (1 + 3 * DT * p.film * v**2)
        v = np.clip(v, 0.0, have)
        over, self.lip = have - v, v
        thin = over / DT < 2.5 * p.drop
        self.drip += np.where(thin, over, 0.0)
        falls = np.where(thin, np.where(self.drip >= p.drop, self.drip, 0.0), over + self.drip)
        self.drip = np.where(thin & (self.drip < p.drop), self.drip, 0.0)
        falls = np.where(self.done, 0.0, falls)
        self.left += falls
        self.flight[(self.k + self.delay) % 64, self.lane] += falls
