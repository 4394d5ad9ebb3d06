"""Scales that show loads late: noise, a filter, lines at a rate, steps of d. A row of 10 ms, a column a lane.

Noise after the filter is 0.25 d, 0.6 d where d is 0.01 g; a line comes 5 % early or late and 0.3 % of them are lost
(assumed). A scale says that it rests when nothing has moved by more than 1 d for 0.8 s, 4 d where d is 0.01 g. An
adaptive filter follows three times as fast while the load is more than 8 d from what it shows.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Any

import numpy as np
from scipy.signal import lfilter

from station.core.mass import Mass
from station.core.material import ScaleCard

DT = 0.01
FLAG_S = 0.8
LOST = 0.003
Array = Any


class Filter(Enum):
    """What a scale does with its load cell's values."""

    AVERAGE = "moving average"
    POLES = "two poles"
    ADAPTIVE = "adaptive"


@dataclass(frozen=True, slots=True)
class Kind:
    """Step d in g, lines a second, group delay in s at rest."""

    d_g: float
    rate_hz: float
    lag_s: float
    filter: Filter

    @property
    def card(self) -> ScaleCard:
        return ScaleCard(Mass.nearest(self.d_g), Mass.grams(3000), self.lag_s)

    @property
    def title(self) -> str:
        return f"{self.d_g:g} g, {self.rate_hz:.0f}/s, {self.filter.value}, {self.lag_s:g} s"


QUICK = (
    Kind(0.01, 20.0, 0.3, Filter.AVERAGE),
    Kind(0.1, 20.0, 0.3, Filter.ADAPTIVE),
    Kind(0.1, 10.0, 0.6, Filter.AVERAGE),
    Kind(0.1, 10.0, 0.6, Filter.POLES),
    Kind(0.01, 10.0, 0.6, Filter.AVERAGE),
)
SLOW = Kind(0.1, 5.0, 1.2, Filter.AVERAGE)
ALL = tuple(
    Kind(d_g, rate_hz, lag_s, kind)
    for d_g in (0.01, 0.1, 1.0)
    for lag_s, rate_hz in ((0.3, 20.0), (0.6, 10.0), (1.2, 5.0))
    for kind in Filter
)


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a scale: seconds from the beginning, grams shown, whether it says that it rests."""

    at_s: float
    grams: float
    stable: bool


def lines(loads: Array, kind: Kind, rng: np.random.Generator) -> list[list[Line]]:
    """What each lane's scale sends for `loads` in g, shape (times, lanes)."""
    rough = 0.6 if kind.d_g < 0.05 else 0.25
    spread = rough * kind.d_g * np.sqrt(2 * kind.lag_s / DT)
    wander = np.cumsum(0.04 * kind.d_g * np.sqrt(DT) * rng.standard_normal(loads.shape), axis=0)
    out = filtered(loads + wander + spread * rng.standard_normal(loads.shape), kind)
    return [_sent(out[:, lane], kind, rng) for lane in range(loads.shape[1])]


def filtered(loads: Array, kind: Kind) -> Array:
    """The filter's output; before the first row the first load has lain there for ever."""
    start = loads[:50].mean(axis=0)
    rest = loads - start
    match kind.filter:
        case Filter.AVERAGE:
            width = round(2 * kind.lag_s / DT)
            return start + lfilter(np.full(width, 1 / width), [1.0], rest, axis=0)
        case Filter.POLES:
            gain = DT / (kind.lag_s / 2 + DT)
            once = lfilter([gain], [1.0, gain - 1], rest, axis=0)
            return start + lfilter([gain], [1.0, gain - 1], once, axis=0)
        case Filter.ADAPTIVE:
            return start + _adaptive(rest, kind)


def _adaptive(rest: Array, kind: Kind) -> Array:
    first, second, out = np.zeros(rest.shape[1]), np.zeros(rest.shape[1]), np.empty_like(rest)
    quickly = lfilter(np.full(10, 0.1), [1.0], rest, axis=0)
    for row, load in enumerate(rest):
        far = np.abs(quickly[row] - second) > 8 * kind.d_g
        gain = DT / (np.where(far, kind.lag_s / 6, kind.lag_s / 2) + DT)
        first = first + gain * (load - first)
        second = second + gain * (first - second)
        out[row] = second
    return out


def _sent(out: Array, kind: Kind, rng: np.random.Generator) -> list[Line]:
    period = 1 / kind.rate_hz
    number = int((len(out) - 1) * DT / period)
    at = np.arange(number) * period + period * (rng.random() + 0.05 * rng.standard_normal(number))
    at = np.sort(np.clip(at, 0.0, (len(out) - 1) * DT))
    shown = np.round(out[(at / DT).astype(int)] / kind.d_g) * kind.d_g
    sent, mark, since = [], shown[0], -FLAG_S
    lost = rng.random(number) < LOST
    still = (4.01 if kind.d_g < 0.05 else 1.01) * kind.d_g
    for moment, grams, gone in zip(at, shown, lost, strict=True):
        if abs(grams - mark) > still:
            mark, since = grams, moment
        if not gone:
            sent.append(Line(float(moment), float(grams), bool(moment - since > FLAG_S)))
    return sent
