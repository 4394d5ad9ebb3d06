"""Where to cut: the value of a factor above or below which most of the bad casts lie, and the price of choosing it.

Whoever tries all cut points finds one that looks good by chance. So the statistic is the largest over all of them, and
its p comes from how large that largest gets when chance deals out the bad casts (maximally selected statistic: Miller
and Siegmund 1982, Biometrics 38, 1011; Lausen and Schumacher 1992, Biometrics 48, 73).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from station.insight.chance import SAMPLED, dealt, permutation_p
from station.insight.shares import Share

LEAST_SIDE = 2
"""At least so many casts on each side of a cut, and a tenth of all."""


@dataclass(frozen=True, slots=True)
class Cut:
    """The best cut: between `below` (the largest value under it) and `above` (the smallest over it).

    `p` pays for having chosen it; `exact` tells that all ways were looked at. `larger` is the chance that a bad cast's
    value is larger than a good one's (ties half): 0.5 says nothing, and no cut was chosen for it.
    """

    below: float
    above: float
    under: Share
    over: Share
    p: float
    exact: bool
    larger: float

    @property
    def at(self) -> float:
        """Half way between its two neighbours."""
        return (self.below + self.above) / 2

    @property
    def worse_under(self) -> bool:
        """Whether the bad casts lie under the cut."""
        return self.under.part > self.over.part


def best_cut(values: Sequence[float], bad: Sequence[bool], sampled: int = SAMPLED) -> Cut | None:
    """The best cut of a factor's values. None when there is none to choose: all alike, all good, all bad, too few."""
    n, k = len(values), int(sum(bad))
    least = max(LEAST_SIDE, math.ceil(n / 10))
    order = np.argsort(np.asarray(values, dtype=float), kind="stable")
    sorted_values = np.asarray(values, dtype=float)[order]
    seen = np.asarray(bad, dtype=np.int8)[order]
    steps = np.flatnonzero(np.diff(sorted_values) > 0) + 1  # how many lie under each possible cut
    steps = steps[(steps >= least) & (steps <= n - least)]
    if not 0 < k < n or steps.size == 0:
        return None
    expected = steps * k / n
    spread = np.sqrt(steps * (n - steps) * k * (n - k) / (n * n * (n - 1)))  # hypergeometric
    labels, exact = dealt(n, k, sampled)

    by_chance = np.abs((np.cumsum(labels, axis=1, dtype=np.int32)[:, steps - 1] - expected) / spread)
    here = np.abs((np.cumsum(seen, dtype=np.int32)[steps - 1] - expected) / spread)
    best = int(np.argmax(here))
    under = int(steps[best])
    bad_under = int(seen[:under].sum())
    return Cut(
        float(sorted_values[under - 1]),
        float(sorted_values[under]),
        Share(bad_under, under),
        Share(k - bad_under, n - under),
        permutation_p(float(here[best]), by_chance.max(axis=1), exact),
        exact,
        larger_chance(sorted_values[seen == 1].tolist(), sorted_values[seen == 0].tolist()),
    )


def larger_chance(ones: Sequence[float], others: Sequence[float]) -> float:
    """The chance that a value of `ones` is larger than one of `others`, ties half (Mann and Whitney's U / mn)."""
    pairs = [(one > other) + (one == other) / 2 for one in ones for other in others]
    return sum(pairs) / len(pairs)


def groups_p(groups: Sequence[str], bad: Sequence[bool], sampled: int = SAMPLED) -> tuple[float, bool] | None:
    """p that one of the groups (lots, say) has more or fewer bad casts than chance would deal it, and whether exact.

    The largest standardised difference over all groups of at least `LEAST_SIDE` casts; its p pays for choosing the
    group, as that of a cut does. None where there is nothing to compare.
    """
    names = sorted(name for name in set(groups) if groups.count(name) >= LEAST_SIDE)
    n, k = len(groups), int(sum(bad))
    if not names or len(set(groups)) < 2 or not 0 < k < n:
        return None
    member = np.array([[group == name for name in names] for group in groups], dtype=np.int32)
    sizes = member.sum(axis=0)
    spread = np.sqrt(sizes * (n - sizes) * k * (n - k) / (n * n * (n - 1)))  # hypergeometric
    labels, exact = dealt(n, k, sampled)

    def largest(rows: np.ndarray) -> np.ndarray:
        off: np.ndarray = np.abs((rows.astype(np.int32) @ member - sizes * k / n) / spread)
        return np.asarray(off.max(axis=-1))

    seen = float(largest(np.asarray(bad, dtype=np.int8)))
    return permutation_p(seen, largest(labels), exact), exact
