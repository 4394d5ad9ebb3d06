"""Exact tests of few casts: a table of two by two; and what many looks cost."""

from __future__ import annotations

from math import comb


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
