"""How often charts of casts that differ by chance alone have a mark, and how often a real step is found.

    python -m tests.benchmarks.insight_marks [CHARTS]

Normal figures without correlation, limits from the same figures, as the page does it. `Rule` and the page say what
comes out. Skewed figures (lognormal, sd a quarter of the mean) and correlated ones (lag 1: 0.3) show what that leaves
out.
"""

from __future__ import annotations

import sys
from collections.abc import Callable

import numpy as np

from station.insight.individuals import Rule, individuals
from station.insight.smoothed import smoothed

CHARTS = 4000
SIZES = (10, 20, 30, 60)
SEED = 20260302
Figures = Callable[[int], "np.ndarray[tuple[int], np.dtype[np.float64]]"]


def shares(figures: Figures, count: int, charts: int) -> dict[str, float]:
    """The shares of charts with each kind of mark."""
    seen = dict.fromkeys(("beyond", "row", "either", "smoothed", "a range, not marked"), 0)
    for _ in range(charts):
        chart = individuals(figures(count).tolist())
        assert chart is not None
        rules = {rule for _, rule in chart.marks}
        seen["beyond"] += Rule.BEYOND in rules
        seen["row"] += Rule.RUN in rules
        seen["either"] += bool(rules)
        seen["smoothed"] += bool(smoothed(chart.values, chart.limits.middle, chart.limits.sigma).beyond)
        seen["a range, not marked"] += max(chart.ranges) > chart.limits.range_high
    return {name: number / charts for name, number in seen.items()}


def main(charts: int) -> None:
    luck = np.random.default_rng(SEED)

    def correlated(count: int) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
        found = luck.standard_normal(count)
        for place in range(1, count):
            found[place] = 0.3 * found[place - 1] + found[place] * (1 - 0.09) ** 0.5
        return found

    def stepped(count: int) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
        found = luck.standard_normal(count)
        found[count // 2 :] += 2
        return found

    kinds: dict[str, Figures] = {
        "chance alone": luck.standard_normal,
        "skewed": lambda count: luck.lognormal(0, 0.25, count),
        "correlated": correlated,
        "a step of two sd": stepped,
    }
    for name, figures in kinds.items():
        for count in SIZES:
            told = ", ".join(f"{what} {share:.3f}" for what, share in shares(figures, count, charts).items())
            print(f"{name}, {count} casts: {told}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else CHARTS)
