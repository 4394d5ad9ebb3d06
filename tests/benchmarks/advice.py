"""How right the advice is in simulated workshops whose truth is known, and how often it claims what is not there.

    python -m tests.benchmarks.advice [WORKSHOPS]

The workshops are those of tests/insight/workshop. Figures are shares of workshops with their intervals, and errors as
ratios to the best that anybody could do who knew the law and its noise.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Callable

import numpy as np

from station.core.judging_events import DefectKind
from station.errors import Refused
from station.insight.asked import Question
from station.insight.difference import differences
from station.insight.limits import Edge, limit
from station.insight.shares import Share
from station.insight.shot_mass import shot_for_density
from tests.insight.workshop import Truth, Workshop

SAMPLED = 999
CASTS = (10, 15, 20, 30, 40, 60)
WANTED = 0.116


def false_claims(workshops: int, casts: int) -> Share:
    """Of so many workshops where nothing matters, those in which any difference is claimed."""
    claimed = judged = 0
    for seed in range(workshops):
        made = Workshop(Truth(any_void=0.3), seed).casts(casts)
        try:
            claimed += bool(differences(made, Question(), SAMPLED).claims)
            judged += 1
        except Refused:
            continue
    return Share(claimed, judged)


def right_claims(workshops: int, casts: int, truth: Truth, question: Question, keys: tuple[str, ...]) -> Share:
    """Workshops in which the look that is surest is one of `keys` and is claimed."""
    right = 0
    for seed in range(workshops):
        try:
            found = differences(Workshop(truth, seed).casts(casts), question, SAMPLED)
        except Refused:
            continue
        right += found.looks[0].claimed and found.looks[0].key in keys
    return Share(right, workshops)


def shot_errors(workshops: int, casts: int, truth: Truth) -> tuple[float, float, Share]:
    """Root mean square error of the advised shot in g, that of who knows the law, and how often the interval holds."""
    off, best, held, told = [], [], 0, 0
    for seed in range(workshops):
        made = Workshop(truth, seed).casts(casts)
        celsius = made[-1].temperature_c
        assert celsius is not None
        true = (WANTED - truth.per_degree * (celsius - 20)) / truth.k
        x = np.array([cast.mixed_g for cast in made])
        y = np.array([cast.density_g_cm3 - truth.per_degree * (cast.temperature_c - 20) for cast in made])
        k = float(x @ y / (x @ x))  # efficient when the law is proportional, its temperature known, the noise alike
        try:
            found = shot_for_density(made, WANTED, celsius)
        except Refused:
            continue
        told += 1
        off.append(found.shot_g - true)
        best.append((WANTED - truth.per_degree * (celsius - 20)) / k - true)
        held += found.low_g <= true <= found.high_g
    return rms(off), rms(best), Share(held, told)


def mix_limit(workshops: int, casts: int, truth: Truth) -> tuple[Share, float, float]:
    """How often a least mix time is told; the 10th and 90th percentile of what is advised, in s."""
    told = []
    for seed in range(workshops):
        try:
            found = limit(Workshop(truth, seed).casts(casts), Edge.MIX)
        except Refused:
            continue
        told.append(found.at)
    if not told:
        return Share(0, workshops), math.nan, math.nan
    return Share(len(told), workshops), float(np.percentile(told, 10)), float(np.percentile(told, 90))


def rms(values: list[float]) -> float:
    return math.sqrt(sum(value * value for value in values) / len(values)) if values else math.nan


def said(share: Share) -> str:
    low, high = share.interval()
    return f"{100 * share.part:5.1f} % of {share.of} ({100 * low:.1f} to {100 * high:.1f})"


UNDERMIXED = Truth(soft_under=0.8, soft_over=0.03)
BAD_LOT = Truth(void_bad_lot=0.9, void_other=0.05)
COLD = Truth(short_cold=0.7, short_warm=0.03)
WARM_LAW = Truth(per_degree=0.0006)


def main(workshops: int, say: Callable[[str], None] = print) -> None:
    """All of it, with so many workshops for the false claims and a quarter of them for the rest."""
    fewer = max(20, workshops // 4)
    for casts in (12, 30):
        say(f"nothing matters, {casts} casts: something claimed in {said(false_claims(workshops, casts))}")
    cases = (
        ("under-mixed", UNDERMIXED, DefectKind.SOFT_SPOT, ("mix_s", "contact_to_pour_s")),
        ("one bad lot", BAD_LOT, DefectKind.VOID, ("lot foam A", "lot foam B")),
        ("cold days", COLD, DefectKind.SHORT_SHOT, ("temperature_c",)),
    )
    for name, truth, kind, keys in cases:
        for casts in CASTS:
            say(f"{name}, {casts} casts: found in {said(right_claims(fewer, casts, truth, Question(kind), keys))}")
    for casts in (20, 30, 60):
        told, low, high = mix_limit(fewer, casts, UNDERMIXED)
        say(
            f"least mix time (truth 75 s), {casts} casts: told in {said(told)}, 8 of 10 between {low:.0f}, {high:.0f} s"
        )
    for name, truth in (("shot", Truth()), ("shot, density falls with cold", WARM_LAW)):
        for casts in (3, 5, 10, 30):
            ours, best, held = shot_errors(workshops, casts, truth)
            off = f"off by {ours:.2f} g, at best {best:.2f} g, ratio {ours / best:.2f}"
            say(f"{name}, {casts} casts: {off}; the interval holds in {said(held)}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
