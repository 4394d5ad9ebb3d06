"""Two casts side by side: everything that differs, the most unusual difference first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from station.insight.factors import FACTORS, Factor, lots_of
from station.insight.facts import CastFacts
from station.texts import number, t

MAD_TO_SPREAD = 1.4826
"""Median absolute deviation to standard deviation of a normal distribution: 1 / 0.6745 (NIST/SEMATECH, 1.3.5.6)."""
LEAST = 4
"""With fewer casts nothing is usual yet."""


@dataclass(frozen=True, slots=True)
class Apart:
    """One factor in which two casts differ. `spread` is its usual spread over the workshop's casts, None when too few
    have it or they hardly differ; `spreads` is the difference in units of it, the second cast less the first."""

    factor: Factor
    first: float
    second: float
    spread: float | None

    @property
    def spreads(self) -> float | None:
        """How large the difference is beside what is usual between casts."""
        return None if self.spread is None else (self.second - self.first) / self.spread


@dataclass(frozen=True, slots=True)
class Unlike:
    """Something without a number in which two casts differ: mold, material, a lot."""

    title: str
    first: str
    second: str


@dataclass(frozen=True, slots=True)
class Compared:
    """`apart`: the largest first; what has no usual spread comes last. `alike` and `unknown` are titles."""

    unlike: tuple[Unlike, ...]
    apart: tuple[Apart, ...]
    alike: tuple[str, ...]
    unknown: tuple[str, ...]


def usual_spread(values: Sequence[float]) -> float | None:
    """Robust spread: scaled median absolute deviation; where half of the values are alike, of those that differ.

    None below `LEAST` values, or when all are alike.
    """
    if len(values) < LEAST:
        return None
    middle = median(values)
    off = [abs(value - middle) for value in values]
    spread = median(off) or median([one for one in off if one > 0] or [0.0])
    return MAD_TO_SPREAD * spread or None


def compared(first: CastFacts, second: CastFacts, casts: Sequence[CastFacts]) -> Compared:
    """Two casts held against each other, and against what is usual among `casts` of the first one's material."""
    usual = [cast for cast in casts if cast.material == first.material]
    apart, alike, unknown = [], [], []
    for factor in FACTORS:
        one, other = factor.value(first), factor.value(second)
        if one is None or other is None:
            unknown.append(t(factor.title))
        elif factor.said(one) == factor.said(other):
            alike.append(t(factor.title))
        else:
            known = [value for cast in usual if (value := factor.value(cast)) is not None]
            apart.append(Apart(factor, one, other, usual_spread(known)))
    apart.sort(key=lambda one: -1.0 if one.spreads is None else abs(one.spreads), reverse=True)
    return Compared(_unlike(first, second), tuple(apart), tuple(alike), tuple(unknown))


def _unlike(first: CastFacts, second: CastFacts) -> tuple[Unlike, ...]:
    pairs = [
        (t("mold"), first.mold_title, second.mold_title),
        (t("material"), first.material_title or first.material, second.material_title or second.material),
    ]
    lots, others = lots_of(first), lots_of(second)
    pairs += [
        (t("lot of {component}", component=name), lots.get(name, "–"), others.get(name, "–"))
        for name in sorted(lots.keys() | others.keys())
    ]
    return tuple(Unlike(title, one, other) for title, one, other in pairs if one != other)


def rows(found: Compared) -> tuple[tuple[str, str, str, str], ...]:
    """Everything that differs: what, the first cast, the second, and how unusual."""
    unlike = tuple((one.title, one.first, one.second, t("differs")) for one in found.unlike)
    apart = tuple(
        (
            t(one.factor.title),
            one.factor.said(one.first),
            one.factor.said(one.second),
            t("no usual spread known")
            if one.spreads is None
            else t("{n} times the usual spread", n=number(abs(one.spreads), ".1f")),
        )
        for one in found.apart
    )
    return (*unlike, *apart)
