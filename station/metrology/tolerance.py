"""Tolerance windows, and the smallest mass for which a scale can hold one."""

from __future__ import annotations

import math

ROUNDING_D = 0.41
"""Standard deviation of the rounding of two readings, in d: d/sqrt(6), the floor used by USP <41>."""

COVERAGE = 2.0
"""Coverage factor k."""


def window_mg(target_mg: int, percent: float) -> tuple[int, int]:
    """Lowest and highest whole milligram that lie within ± `percent` % of the target."""
    half = target_mg * percent / 100
    return math.ceil(target_mg - half - 1e-6), math.floor(target_mg + half + 1e-6)
