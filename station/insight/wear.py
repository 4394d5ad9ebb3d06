"""The wear of a mold: over its shots, do flash, tears and bad parts become more, do masses drift?

Three looks at one mold are three chances to be misled. So each interval is so wide that all of them hold at once with
95 % (`TOGETHER`, by Bonferroni), and p is corrected by Holm. Fewer figures than `LEAST` give no claim.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Final

from station.core.judging_events import DefectKind, Verdict
from station.insight.exact import holm
from station.insight.facts import CastFacts
from station.insight.shares import Share, apart
from station.insight.spread import LEVEL, Interval
from station.texts import N_

LEAST: Final = 8
"""Shots with a figure, below which no trend is worked out. Common practice, no source."""
SMALL: Final = 0.01
"""A drift over all its shots below this part of the middle figure is called small. Common practice, no source."""
LOOKS: Final = 3
TOGETHER: Final = 1 - (1 - LEVEL) / LOOKS
"""The level of each interval."""

WORN: Final = frozenset({DefectKind.TEAR, DefectKind.FLASH})
"""What a worn mold leaves on its parts: common practice, no source."""


class Sort(Enum):
    """What is looked at. The value is its name in words."""

    WORN = N_("tears and flash")
    NOT_GOOD = N_("parts that were not good")
    MASS = N_("part mass")


@dataclass(frozen=True, slots=True)
class Halves:
    """Shares of casts in the earlier and the later half of the shots; `more`: later less earlier, with its interval."""

    earlier: Share
    later: Share
    more: float
    within: Interval


@dataclass(frozen=True, slots=True)
class Drift:
    """`per_shot` is the slope of the part mass over shots in g, with its interval; `middle` is the median mass in g."""

    per_shot: float
    within: Interval
    middle: float


@dataclass(frozen=True, slots=True)
class Trend:
    """One look: `n` shots with a figure, from shot `first` to shot `last`.

    `halves` of a share, `drift` of a figure, neither of fewer than `LEAST` shots. `p` is the chance to see so much
    without wear, corrected for all looks; 1 where nothing was worked out.
    """

    sort: Sort
    n: int
    first: int
    last: int
    halves: Halves | None = None
    drift: Drift | None = None
    p: float = 1.0

    @property
    def claimed(self) -> bool:
        """Whether it is more than chance: the interval leaves zero out, and p is below 5 %."""
        found = self.halves or self.drift
        return found is not None and self.p < 1 - LEVEL and not found.within.low <= 0 <= found.within.high

    @property
    def over_all(self) -> float | None:
        """The drift from the first to the last shot as a part of the middle figure; None without one."""
        if self.drift is None or self.drift.middle == 0:
            return None
        return self.drift.per_shot * (self.last - self.first) / self.drift.middle

    @property
    def small(self) -> bool:
        """Whether the drift over all shots is too small to matter."""
        return self.over_all is not None and abs(self.over_all) < SMALL


@dataclass(frozen=True, slots=True)
class Wear:
    """The looks at one mold. Masses were compared of parts of this `material`, `trimmed` or not: never across those.

    `cavity_cm3` is that of the mold, None where it is not known or was changed meanwhile.
    """

    trends: tuple[Trend, ...]
    material: str = ""
    trimmed: bool | None = None
    cavity_cm3: float | None = None


def wear(facts: Sequence[CastFacts]) -> Wear:
    """The wear of one mold by its poured casts, in any order."""
    shots = sorted(facts, key=lambda cast: cast.mold_shot)
    judged = [cast for cast in shots if cast.verdict is not None]
    alike = _alike(shots)
    found = (
        _share(Sort.WORN, judged, lambda cast: any(defect.kind in WORN for defect in cast.defects)),
        _share(Sort.NOT_GOOD, judged, lambda cast: cast.verdict is not Verdict.GOOD),
        _mass(alike),
    )
    corrected = holm(tuple(trend.p for trend in found))
    trends = tuple(_with_p(trend, p) for trend, p in zip(found, corrected, strict=True))
    if not alike:
        return Wear(trends)
    cavities = {cast.cavity_cm3 for cast in alike}
    one = alike[-1]
    return Wear(trends, one.material_title or one.material, one.trimmed, one.cavity_cm3 if len(cavities) == 1 else None)


def _with_p(trend: Trend, p: float) -> Trend:
    return Trend(trend.sort, trend.n, trend.first, trend.last, trend.halves, trend.drift, p)


def _alike(shots: Sequence[CastFacts]) -> list[CastFacts]:
    """Of the weighed parts those of one material, trimmed or not: the largest such group, the newest of equal ones."""
    groups: dict[tuple[str, bool | None], list[CastFacts]] = {}
    for cast in shots:
        if cast.part_g is not None:
            groups.setdefault((cast.material, cast.trimmed), []).append(cast)
    return max(groups.values(), key=lambda group: (len(group), group[-1].mold_shot), default=[])


def _share(sort: Sort, shots: Sequence[CastFacts], bad: Callable[[CastFacts], bool]) -> Trend:
    n, first, last = _span(shots)
    if n < LEAST:
        return Trend(sort, n, first, last)
    were = [bad(cast) for cast in shots]
    half = n // 2
    earlier, later = Share(sum(were[:half]), half), Share(sum(were[half:]), n - half)
    more, low, high = apart(later, earlier, TOGETHER)
    return Trend(sort, n, first, last, halves=Halves(earlier, later, more, Interval(low, high)), p=_ranks(were))


def _ranks(were: Sequence[bool]) -> float:
    """Whether the bad ones come earlier or later than the good ones: the exact test of ranks (Mann and Whitney 1947).

    Shots are never alike, so there are no ties, and it is the same as Kendall's tau between a shot and being bad.
    """
    from scipy.stats import mannwhitneyu

    ill = [at for at, was in enumerate(were) if was]
    well = [at for at, was in enumerate(were) if not was]
    return float(mannwhitneyu(ill, well, method="exact").pvalue) if ill and well else 1.0


def _mass(alike: Sequence[CastFacts]) -> Trend:
    n, first, last = _span(alike)
    if n < LEAST:
        return Trend(Sort.MASS, n, first, last)
    at, masses = [cast.mold_shot for cast in alike], [cast.part_g or 0.0 for cast in alike]
    return Trend(Sort.MASS, n, first, last, drift=_slope(at, masses), p=_monotone(at, masses))


def _slope(at: Sequence[int], values: Sequence[float]) -> Drift:
    """The median of the slopes between all pairs of shots, with its interval (Theil 1950, Sen 1968)."""
    from scipy.stats import theilslopes

    found = theilslopes(values, at, alpha=TOGETHER)
    middle = sorted(values)[len(values) // 2]
    return Drift(float(found.slope), Interval(float(found.low_slope), float(found.high_slope)), middle)


def _monotone(at: Sequence[int], values: Sequence[float]) -> float:
    """p of a rise or fall by Kendall's tau (Mann 1945, Kendall 1975), exact where no two figures are alike."""
    from scipy.stats import kendalltau

    if min(values) == max(values):
        return 1.0
    ties = len(set(values)) < len(values) or len(set(at)) < len(at)
    return float(kendalltau(at, values, method="asymptotic" if ties else "exact").pvalue)


def _span(shots: Sequence[CastFacts]) -> tuple[int, int, int]:
    return (len(shots), shots[0].mold_shot, shots[-1].mold_shot) if shots else (0, 0, 0)
