"""Scales of every lane: load cell, digital filter, lines at a rate, steps of d, bumps, hands, drift."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

DT = 0.01
Array = Any


@dataclass(frozen=True, slots=True)
class Kind:
    """`poles` 0: a moving average; else so many equal poles. `lag_s` is the group delay of either."""

    d_g: float
    rate_hz: float
    lag_s: float
    poles: int


KINDS = {
    "fine quick": Kind(0.01, 20.0, 0.3, 2),
    "fine slow": Kind(0.01, 10.0, 0.6, 0),
    "tenth quick": Kind(0.1, 20.0, 0.25, 3),
    "tenth slow": Kind(0.1, 10.0, 0.6, 1),
    "five a second": Kind(0.1, 5.0, 0.5, 0),
    "one gram": Kind(1.0, 10.0, 0.4, 2),
}


class Scales:
    """`step(load_g)` goes on by 10 ms; `shown` holds the newest line of each, `steady` what it says of rest."""

    def __init__(
        self, rng: np.random.Generator, kinds: list[Kind], noise: float = 1.0, drift: float = 1.0, bumps: float = 1.0
    ) -> None:
        n, self.rng = len(kinds), rng
        self.n, self.t, self.k = n, 0.0, 0
        self.d = np.array([kind.d_g for kind in kinds])
        self.rate = np.array([kind.rate_hz for kind in kinds])
        self.lag = np.array([kind.lag_s for kind in kinds])
        self.poles = np.array([kind.poles for kind in kinds])
        self.width = np.clip(np.rint(2 * self.lag / DT).astype(int), 1, 250)
        after = np.where(self.d < 0.05, 0.6, 0.25) * self.d * noise
        self.noise = after * np.sqrt(np.where(self.poles == 0, self.width, 2 * self.lag / DT))
        self.bumps = bumps
        self.drift_sd = 0.04 * self.d * drift
        self.wander, self.total = np.zeros(n), np.zeros(n)
        self.sums, self.stage = np.zeros((256, n)), np.zeros((3, n))
        self.next_s = rng.random(n) / self.rate
        self.shown, self.mark, self.mark_s = np.zeros(n), np.zeros(n), np.zeros(n)
        self.hit_s, self.hit_g, self.hit_hz = np.full(n, -9.0), np.zeros(n), np.ones(n)
        self.hand_s, self.hand_g, self.hand_for = np.full(n, -9.0), np.zeros(n), np.ones(n)
        self.lane = np.arange(n)

    def step(self, load_g: Array) -> Array:
        rng, n = self.rng, self.n
        self.t += DT
        self.k += 1
        self._disturb()
        since = self.t - self.hit_s
        load = load_g + self.wander + self.noise * rng.standard_normal(n)
        load = load + self.hit_g * np.exp(-since / 0.13) * np.sin(2 * math.pi * self.hit_hz * since) * (since < 1.0)
        part = (self.t - self.hand_s) / self.hand_for
        load = load + np.where((part > 0) & (part < 1), self.hand_g * np.sin(math.pi * part) ** 2, 0.0)
        self.total = self.total + load
        self.sums[self.k % 256] = self.total
        average = (self.total - self.sums[(self.k - self.width) % 256, self.lane]) / self.width
        gain = DT / (self.lag / np.maximum(self.poles, 1) + DT)
        into = load
        for i in range(3):
            self.stage[i] += gain * (into - self.stage[i])
            into = self.stage[i]
        out = np.where(self.poles == 0, average, self.stage[np.maximum(self.poles, 1) - 1, self.lane])
        due = np.nonzero(self.t >= self.next_s)[0]
        if due.size:
            self.next_s[due] = self.t + (1 + 0.05 * rng.standard_normal(due.size)) / self.rate[due] - DT / 2
            self.shown[due] = np.round(out[due] / self.d[due]) * self.d[due]
            moved = due[np.abs(self.shown[due] - self.mark[due]) > 1.01 * self.d[due]]
            self.mark[moved], self.mark_s[moved] = self.shown[moved], self.t
            due = due[rng.random(due.size) > 0.003]
        return due

    @property
    def steady(self) -> Array:
        return self.t - self.mark_s > 0.8

    def _disturb(self) -> None:
        if self.k % 10:
            return
        rng = self.rng
        self.wander += self.drift_sd * math.sqrt(0.1) * rng.standard_normal(self.n)
        hit = rng.random(self.n) < 0.1 * self.bumps / 60
        k = int(hit.sum())
        self.hit_s[hit], self.hit_hz[hit] = self.t, rng.uniform(5, 14, k)
        self.hit_g[hit] = 4 * np.exp(0.9 * rng.standard_normal(k))
        hand = rng.random(self.n) < 0.1 * self.bumps / 120
        k = int(hand.sum())
        self.hand_s[hand], self.hand_for[hand] = self.t, rng.uniform(0.2, 1.2, k)
        self.hand_g[hand] = 4 * np.exp(0.8 * rng.standard_normal(k)) * np.where(rng.random(k) < 0.7, 1, -1)
