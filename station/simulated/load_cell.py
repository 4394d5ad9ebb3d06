"""LoadCell: from the true load on the pan to what a bench scale would show, step by step and without a clock.

Textbook parts, from memory: two equal first-order low-pass filters in a row (group delay at rest = the sum of
their time constants = the lag), white noise of the converter, a random walk for drift, knocks at the bench as
a decaying 8 Hz swing, a hand that rests on the pan for a moment, rounding to the readability.
"""

from __future__ import annotations

import math
import random
from collections import deque
from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

from station.core.material import ScaleCard

TICK_S = 0.01
QUIET_S = 0.8
"""How long the indication must stay within one step up or down before it is called stable (common practice)."""

_SWING_HZ = 8.0
_SWING_DIES_S = 0.15


class Indication(NamedTuple):
    """What the scale shows. `fresh`: it was renewed in this step, so a streaming scale sends a line now."""

    grams: Decimal
    stable: bool
    overload: bool
    fresh: bool


@dataclass(frozen=True, slots=True)
class CellFaults:
    """How far from ideal: `noise` is its standard deviation in steps d, `drift` in d after one hour."""

    noise: float = 0.25
    drift: float = 0.3
    bumps_per_min: float = 0.0
    touches_per_min: float = 0.0


class LoadCell:
    """A scale of the given card that renews its indication `rate_hz` times a second.

    `card.lag_s` is the filter's group delay. The same seed and the same loads give the same indications, however
    the time is cut into steps of whole ticks.
    """

    def __init__(
        self, card: ScaleCard, rate_hz: float = 10.0, faults: CellFaults | None = None, seed: int | str = 0
    ) -> None:
        self._card = card
        self._d = card.readability.g
        self._every_ticks = max(1, round(1 / (rate_hz * TICK_S)))
        self._faults = faults or CellFaults()
        self._random = random.Random(seed)
        self._pole = math.exp(-TICK_S / (card.lag_s / 2)) if card.lag_s > 0 else 0.0
        self._first = self._second = self._drift_g = 0.0
        self._swing_g, self._swing_s = 0.0, 0.0
        self._hand_g, self._hand_left_s = 0.0, 0.0
        self._owed_s = 0.0
        self._ticks = 0
        self._lately: deque[int] = deque(maxlen=1 + max(1, round(QUIET_S / (self._every_ticks * TICK_S))))
        self._shown = Indication(self._text(0), False, False, False)

    def step(self, dt: float, true_grams: float) -> Indication:
        """Let `dt` seconds pass under this load (g) and return what is shown then."""
        fresh = False
        self._owed_s += dt
        while self._owed_s > TICK_S / 2:
            self._owed_s -= TICK_S
            self._ticks += 1
            self._filter(true_grams)
            if self._ticks % self._every_ticks == 0:
                self._shown, fresh = self._indicate(), True
        return self._shown._replace(fresh=fresh)

    def _filter(self, true_grams: float) -> None:
        felt = true_grams + self._disturbance()
        self._drift_g += self._random.gauss(0, self._faults.drift * self._d * math.sqrt(TICK_S / 3600))
        self._first = felt + (self._first - felt) * self._pole
        self._second = self._first + (self._second - self._first) * self._pole

    def _disturbance(self) -> float:
        """Grams that knocks and hands add to the load now."""
        if self._random.random() < self._faults.bumps_per_min * TICK_S / 60:
            self._swing_g, self._swing_s = self._random.uniform(50, 400) * self._d, 0.0
        if self._random.random() < self._faults.touches_per_min * TICK_S / 60:
            self._hand_g = self._random.choice((-1, 1)) * self._random.uniform(2, 8)
            self._hand_left_s = self._random.uniform(0.2, 1.2)
        self._swing_s += TICK_S
        self._hand_left_s -= TICK_S
        swing = math.sin(2 * math.pi * _SWING_HZ * self._swing_s) * math.exp(-self._swing_s / _SWING_DIES_S)
        return self._swing_g * swing + (self._hand_g if self._hand_left_s > 0 else 0.0)

    def _indicate(self) -> Indication:
        noise = self._random.gauss(0, self._faults.noise * self._d)
        grams = self._second + self._drift_g + noise
        steps = round(grams / self._d)
        self._lately.append(steps)
        quiet = len(self._lately) == self._lately.maxlen and max(self._lately) - min(self._lately) <= 2
        over = abs(steps) * self._card.readability.mg > self._card.maximum.mg
        return Indication(self._text(steps), quiet and not over, over, True)

    def _text(self, steps: int) -> Decimal:
        """The indication with exactly the decimals that the readability has."""
        mg = self._card.readability.mg
        decimals = next((n for n in range(4) if mg % 10 ** (3 - n) == 0), 3)
        return (Decimal(steps * mg) / 1000).quantize(Decimal(1).scaleb(-decimals))
