"""A trial's own test: its settings dealt out anew within each block, as lots could have done."""

from __future__ import annotations

from itertools import permutations
from math import factorial, prod

import numpy as np

from station.insight.chance import MOST_EXACT, SAMPLED, SEED, permutation_p
from station.insight.least_squares import Vector
from station.insight.trials.design import Design, Run


def dealt_p(design: Design, runs: list[Run], column: Vector, y: Vector) -> float | None:
    """p of an effect by dealing its signs (`column`) out anew; None when runs are missing, so that lots tell nothing.

    The randomisation test of Fisher 1935, The Design of Experiments, section 21.
    """
    if len(runs) < len(design.runs):
        return None
    blocks = [np.array([at for at, run in enumerate(runs) if run.block == n]) for n in range(1, design.blocks + 1)]
    seen = abs(float(column @ y))
    # Signs are alike within a side, so only which runs of a block are on the upper side counts.
    upper = [int((column[block] > 0).sum()) for block in blocks]
    ways = prod(factorial(len(b)) // (factorial(u) * factorial(len(b) - u)) for b, u in zip(blocks, upper, strict=True))
    if ways <= MOST_EXACT:
        sums = np.zeros(1)
        for block in blocks:
            here = np.array([np.dot(signs, y[block]) for signs in sorted(set(permutations(column[block])))])
            sums = (sums[:, None] + here[None, :]).ravel()
        return permutation_p(seen, np.abs(sums), exact=True)
    lots = np.random.Generator(np.random.PCG64(SEED))
    sums = np.zeros(SAMPLED)
    for block in blocks:
        rows = np.argsort(lots.random((SAMPLED, len(block))), axis=1)
        sums += column[block][rows] @ y[block]
    return permutation_p(seen, np.abs(sums), exact=False)
