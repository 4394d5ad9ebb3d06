"""All ways in which chance could have dealt out the bad casts, or a sample of them."""

from __future__ import annotations

from functools import lru_cache
from itertools import combinations
from math import comb

import numpy as np
from numpy.typing import NDArray

MOST_EXACT = 20_000
"""Up to so many ways all are looked at; above, a sample of them."""
SAMPLED = 9_999
SEED = 20_261
"""The sample is the same each time, so a page says the same p twice."""
ROUNDING = 1e-9

Labels = NDArray[np.int8]


@lru_cache(maxsize=4)
def dealt(n: int, bad: int, sampled: int = SAMPLED, seed: int = SEED) -> tuple[Labels, bool]:
    """Ways to have `bad` of `n` casts bad, a row of 0 and 1 each, and whether that is all of them.

    Where there are more than `MOST_EXACT`, `sampled` of them are drawn by lot. Read only.
    """
    if not 0 <= bad <= n:
        raise ValueError("more bad casts than casts")
    exact = comb(n, bad) <= MOST_EXACT
    if exact:
        rows = np.zeros((comb(n, bad), n), dtype=np.int8)
        for row, at in enumerate(combinations(range(n), bad)):
            rows[row, list(at)] = 1
    else:
        lots = np.random.Generator(np.random.PCG64(seed)).random((sampled, n))
        rows = np.zeros((sampled, n), dtype=np.int8)
        np.put_along_axis(rows, np.argpartition(lots, bad, axis=1)[:, :bad], 1, axis=1)
    rows.flags.writeable = False
    return rows, exact


def permutation_p(seen: float, by_chance: NDArray[np.float64], exact: bool) -> float:
    """The part of chance's values that are at least as large as what was seen.

    Of a sample what was seen counts as one more: (b + 1) / (m + 1), so that p is never 0 and keeps its level
    (Phipson and Smyth 2010, Stat. Appl. Genet. Mol. Biol. 9, 39).
    """
    as_large = int(np.count_nonzero(by_chance >= seen - ROUNDING * max(1.0, abs(seen))))
    return as_large / by_chance.size if exact else (as_large + 1) / (by_chance.size + 1)
