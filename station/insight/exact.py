"""Exact tests of few casts: a table of two by two, and all ways in which chance could have dealt out the bad ones."""

from __future__ import annotations

from functools import lru_cache
from itertools import combinations
from math import comb
from typing import TYPE_CHECKING

if TYPE_CHECKING:  # the service needs `holm` alone, and numpy is 15 MB and a quarter of a second at its start
    import numpy as np
    from numpy.typing import NDArray

MOST_EXACT = 20_000
"""Up to so many ways all are looked at; above, a sample of them."""
SAMPLED = 9_999
SEED = 20_261
"""The sample is the same each time, so a page says the same p twice."""
ROUNDING = 1e-9


def fisher(bad_here: int, good_here: int, bad_there: int, good_there: int) -> float:
    """Two-sided p of a table of two by two (Fisher 1935): all tables with these margins that are no likelier than it.

    Raises ValueError for a count below zero.
    """
    if min(bad_here, good_here, bad_there, good_there) < 0:
        raise ValueError("a count below zero")
    here, there, bad = bad_here + good_here, bad_there + good_there, bad_here + bad_there
    ways = {k: comb(here, k) * comb(there, bad - k) for k in range(max(0, bad - there), min(here, bad) + 1)}
    # Whole numbers, so that equally likely tables are found equal.
    return sum(one for one in ways.values() if one <= ways[bad_here]) / sum(ways.values())


@lru_cache(maxsize=16)
def dealt(n: int, bad: int, sampled: int = SAMPLED, seed: int = SEED) -> tuple[NDArray[np.int8], bool]:
    """Ways to have `bad` of `n` casts bad, a row of 0 and 1 each, and whether that is all of them.

    Where there are more than `MOST_EXACT`, `sampled` of them are drawn by lot. Read only.
    """
    import numpy as np

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
    import numpy as np

    as_large = int(np.count_nonzero(by_chance >= seen - ROUNDING * max(1.0, abs(seen))))
    return as_large / by_chance.size if exact else (as_large + 1) / (by_chance.size + 1)


def holm(ps: tuple[float, ...]) -> tuple[float, ...]:
    """p corrected for looking so many times (Holm 1979, Scand. J. Statist. 6, 65), in the order given.

    Holm rather than Benjamini and Hochberg: whoever believes one claim changes how he casts, so it is each claim that
    must be kept rare, not their share among many; and it holds however the looks hang together.
    """
    order = sorted(range(len(ps)), key=lambda at: ps[at])
    corrected, so_far = [1.0] * len(ps), 0.0
    for rank, at in enumerate(order):
        so_far = max(so_far, min(1.0, (len(ps) - rank) * ps[at]))
        corrected[at] = so_far
    return tuple(corrected)
