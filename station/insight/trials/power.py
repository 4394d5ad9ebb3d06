"""What a trial can find, said before it is begun: by how much settings must differ for the trial to notice."""

from __future__ import annotations

import math

from station.insight.exact import fisher
from station.insight.trials.design import Design

LEVEL = 0.05
WANTED = 0.8
"""A trial that misses what is there more often than 1 time in 5 is hardly worth its material. Common practice."""


def power_of_means(apart: float, each: float, df: int, level: float = LEVEL) -> float:
    """The chance to notice two means `apart` standard deviations, `each` casts a side, by Student's t on `df` degrees.

    Noncentral t (NIST/SEMATECH e-Handbook, 7.2.2.2). 0 without a degree of freedom.
    """
    if df < 1 or each <= 0:
        return 0.0
    from scipy.special import nctdtr, stdtrit

    edge = float(stdtrit(df, 1 - level / 2))
    off = abs(apart) * math.sqrt(each / 2)
    return 1 - float(nctdtr(df, off, edge)) + float(nctdtr(df, off, -edge))


def power_of_groups(apart: float, groups: int, each: int, df: int, level: float = LEVEL) -> float:
    """The same for several settings, of which the two outermost are `apart` standard deviations and the others between.

    Noncentral F with the least favourable noncentrality, each x apart² / 2.
    """
    if df < 1 or groups < 2:
        return 0.0
    from scipy.special import fdtri, ncfdtr

    edge = float(fdtri(groups - 1, df, 1 - level))
    return 1 - float(ncfdtr(groups - 1, df, each * apart**2 / 2, edge))


def power_of_shares(one: float, other: float, each: int, level: float = LEVEL) -> float:
    """The chance that Fisher's exact test notices two shares of bad casts, `each` casts a side."""
    found = 0.0
    for a in range(each + 1):
        for b in range(each + 1):
            if fisher(a, each - a, b, each - b) <= level:
                found += _binomial(a, each, one) * _binomial(b, each, other)
    return found


def noticed(design: Design, terms: int) -> float | None:
    """How many standard deviations apart settings must lie to be noticed 4 times in 5; None when nothing ever is.

    `terms`: effects that are estimated besides mean and blocks (for one factor its settings less one).
    """
    df = len(design.runs) - design.blocks - terms
    if df < 1:
        return None
    from scipy.optimize import brentq

    if design.two_level:
        each = len(design.runs) / 2

        def lacking(apart: float) -> float:
            return power_of_means(apart, each, df) - WANTED

    else:
        groups = design.combinations

        def lacking(apart: float) -> float:
            return power_of_groups(apart, groups, len(design.runs) // groups, df) - WANTED

    high = 1.0
    while lacking(high) < 0 and high < 1e3:
        high *= 2
    return float(brentq(lacking, 0.0, high)) if lacking(high) >= 0 else None


def _binomial(k: int, n: int, p: float) -> float:
    return math.comb(n, k) * p**k * (1 - p) ** (n - k)
