"""Lag: how late a scale shows a load, from what it showed while a cup was put down.

A step comes out of a filter smeared over time. The spread of that smear (the standard deviation of the slope's place in
time) is L/sqrt(3) for a moving average of lag L, L/sqrt(2) for two equal poles, L for one: by the variances of
a uniform, a gamma and an exponential distribution. Nobody knows which filter it is, so a middle factor is used: good
to 15 % for the first two, 55 % too large for the third. The hand's own slowness adds to it, so the least of several
counts.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

FACTOR = 1.55

LEAST_STEPS_OF_D = 40
"""A step smaller than so many d is too coarse to be measured."""

LEAST_READINGS = 3
"""So many readings must fall into the rise."""

SLACK = 0.02
"""The load may fall back by this part of the step: a hand that lets go."""


def lag_of_step(readings: Sequence[tuple[float, float]], d_g: float) -> float | None:
    """Lag in seconds from readings (seconds, grams) that begin before a step and end at rest after it.

    None where they do not show one clean step: too small, falling, moving at an end, or over between two readings.
    """
    if len(readings) < LEAST_READINGS + 2:
        return None
    step = readings[-1][1] - readings[0][1]
    still = abs(readings[-1][1] - readings[-3][1]) <= d_g and abs(readings[1][1] - readings[0][1]) <= d_g
    if step < LEAST_STEPS_OF_D * d_g or not still:
        return None
    weights, middles, periods = [], [], []
    for (before_s, before_g), (after_s, after_g) in pairwise(readings):
        if after_g - before_g < -max(d_g, SLACK * step):
            return None
        weights.append(max(0.0, after_g - before_g))
        middles.append((before_s + after_s) / 2)
        periods.append(after_s - before_s)
    if sum(weight > 0.01 * step for weight in weights) < LEAST_READINGS:
        return None
    whole = sum(weights)
    mean = sum(w * m for w, m in zip(weights, middles, strict=True)) / whole
    spread = sum(w * (m - mean) ** 2 for w, m in zip(weights, middles, strict=True)) / whole
    # Slopes are known between two readings only: a uniform share of each period.
    spread -= sum(w * p * p for w, p in zip(weights, periods, strict=True)) / whole / 12
    return FACTOR * math.sqrt(max(0.0, spread))
