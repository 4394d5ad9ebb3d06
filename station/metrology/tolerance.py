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


def minimum_mass_g(readability_g: float, percent: float, repeatability_g: float = 0.0) -> float:
    """Smallest net mass in grams whose relative error stays within ± `percent` %.

    k * max(s, 0.41 d) / (allowed relative error), k = 2: the form of USP <41> with a freely chosen tolerance.
    """
    return COVERAGE * max(repeatability_g, ROUNDING_D * readability_g) / (percent / 100)
