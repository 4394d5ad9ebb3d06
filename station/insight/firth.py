"""Logistic regression with Firth's penalty: finite also where a factor parts good and bad casts without overlap.

Firth 1993, Biometrika 80, 27: the log-likelihood plus half the log determinant of the information (Jeffreys' prior).
Intervals by profiling that sum (Heinze and Schemper 2002, Statist. Med. 21, 2409).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq, minimize_scalar
from scipy.special import chdtrc, chdtri, expit, log_expit, logit

from station.errors import Refused
from station.texts import N_, t

Vector = NDArray[np.float64]

LEAST_OF_EACH = 3
"""With fewer casts of either kind no curve is drawn."""
TRIES = 200
NOWHERE = 1e9
WIDEST = 60.0
"""In spreads of the factor: a limit or a slope further out than this is no number to act on."""
_FEW = N_("A curve needs at least {least} casts of each kind; there are {bad} and {good}.")


@dataclass(frozen=True, slots=True)
class Slope:
    """By how much the log odds of a bad cast change per unit of the factor, its interval, and p of none."""

    per_unit: float
    low: float
    high: float
    p: float


@dataclass(frozen=True, slots=True)
class Limit:
    """Where the chance of a bad cast is `chance`, with its interval; None where that has no end."""

    at: float
    low: float | None
    high: float | None
    chance: float


class Curve:
    """The chance of a bad cast along one factor. Raises Refused when the data do not carry it."""

    def __init__(self, values: Sequence[float], bad: Sequence[bool]) -> None:
        n, k = len(values), int(sum(bad))
        x = np.asarray(values, dtype=float)
        if min(k, n - k) < LEAST_OF_EACH or not np.ptp(x) > 0:
            raise Refused(t(_FEW, least=LEAST_OF_EACH, bad=k, good=n - k), t("Cast and judge some more."))
        self._mean, self._spread = float(x.mean()), float(x.std())
        self._x = np.column_stack([np.ones(n), (x - self._mean) / self._spread])
        self._y = np.asarray(bad, dtype=float)
        self._best = self._fitted()
        self._most = self._likelihood(self._best)

    @property
    def intercept(self) -> float:
        """Log odds where the factor is 0."""
        return float(self._best[0] - self._best[1] * self._mean / self._spread)

    @property
    def per_unit(self) -> float:
        """Change of the log odds per unit."""
        return float(self._best[1] / self._spread)

    def chance(self, value: float) -> float:
        """The chance of a bad cast at this value."""
        return float(expit(self.intercept + self.per_unit * value))

    def slope(self, level: float = 0.95) -> Slope:
        """The slope with its profile interval and p by the penalised likelihood ratio."""
        drop = float(chdtri(1, 1 - level))
        best = float(self._best[1])

        def lacking(slope: float) -> float:
            return 2 * (self._most - self._at_slope(slope)) - drop

        low = self._edge(lacking, best, -1.0)
        high = self._edge(lacking, best, 1.0)
        p = float(chdtrc(1, max(0.0, 2 * (self._most - self._at_slope(0.0)))))
        return Slope(self.per_unit, low / self._spread, high / self._spread, p)

    def limit(self, chance: float, level: float = 0.95) -> Limit:
        """Where the chance of a bad cast is `chance`, with the profile interval of that place."""
        drop = float(chdtri(1, 1 - level))
        odds = float(logit(chance))
        best = float((odds - self._best[0]) / self._best[1])
        rising = self._best[1] > 0

        def lacking(place: float) -> float:
            def minus(slope: float) -> float:
                return -self._likelihood(np.array([odds - slope * place, slope]))

            within = (0.0, WIDEST) if rising else (-WIDEST, 0.0)
            return 2 * (self._most + float(minimize_scalar(minus, bounds=within, method="bounded").fun)) - drop

        ends = []
        for way in (-1.0, 1.0):
            edge = self._edge(lacking, best, way)
            ends.append(None if abs(edge - best) >= WIDEST else self._mean + self._spread * edge)
        return Limit(self._mean + self._spread * best, ends[0], ends[1], chance)

    @staticmethod
    def _edge(lacking: object, best: float, way: float) -> float:
        assert callable(lacking)
        step = 0.25
        while lacking(best + way * step) < 0:
            step *= 2
            if step >= WIDEST:
                return best + way * WIDEST
        return float(brentq(lacking, best, best + way * step, xtol=1e-9))

    def _likelihood(self, beta: Vector) -> float:
        """Penalised log-likelihood of (intercept, slope) in spreads from the mean."""
        at = self._x @ beta
        chance = expit(at)
        weighted = self._x * (chance * (1 - chance))[:, None]
        a, b, c = (self._x.T @ weighted)[[0, 0, 1], [0, 1, 1]]
        information = a * c - b * b
        if not information > 0:
            return -NOWHERE
        return float(np.sum(np.where(self._y > 0, log_expit(at), log_expit(-at))) + 0.5 * np.log(information))

    def _score(self, beta: Vector) -> tuple[Vector, Vector]:
        """Firth's score, and the information."""
        chance = expit(self._x @ beta)
        weight = chance * (1 - chance)
        information = self._x.T @ (self._x * weight[:, None])
        leverage = weight * np.einsum("ij,jk,ik->i", self._x, np.linalg.pinv(information), self._x)
        return self._x.T @ (self._y - chance + leverage * (0.5 - chance)), information

    def _fitted(self) -> Vector:
        beta = np.zeros(2)
        for _ in range(TRIES):
            score, information = self._score(beta)
            step = np.linalg.pinv(information) @ score
            step *= min(1.0, 5.0 / max(1e-12, float(np.abs(step).max())))
            here = self._likelihood(beta)
            while self._likelihood(beta + step) < here - 1e-12 and np.abs(step).max() > 1e-12:
                step /= 2
            beta = beta + step
            if np.abs(score).max() < 1e-10 or np.abs(step).max() < 1e-12:
                break
        return beta

    def _at_slope(self, slope: float) -> float:
        """The best penalised likelihood with this slope."""

        def minus(intercept: float) -> float:
            return -self._likelihood(np.array([intercept, slope]))

        middle = float(self._best[0])
        wide = 10.0 + 3 * abs(slope)
        return -float(minimize_scalar(minus, bounds=(middle - wide, middle + wide), method="bounded").fun)
