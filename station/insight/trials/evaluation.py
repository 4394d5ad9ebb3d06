"""What a trial found: the effect of each factor with its interval, or the shares of bad casts at its settings.

Since lots decided which cast got which setting, an effect found here may be called one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import combinations
from math import comb

import numpy as np
from scipy.special import fdtrc

from station.errors import Refused
from station.insight.least_squares import Fit, Vector, least_squares
from station.insight.shares import Share
from station.insight.trials.dealing import dealt_p
from station.insight.trials.design import Design, Run
from station.texts import t


@dataclass(frozen=True, slots=True)
class Effect:
    """How much the response is higher at the second setting than at the first; of two factors, how much the effect of
    one changes with the other, halved (NIST/SEMATECH e-Handbook, 5.5.9.9). The interval is None without repeats.

    `p` is that of Student's t; `by_lots` that of dealing the settings out anew within each block.
    """

    factors: tuple[str, ...]
    value: float
    low: float | None
    high: float | None
    p: float | None
    by_lots: float | None


@dataclass(frozen=True, slots=True)
class Levels:
    """One factor at several settings: the mean at each (blocks evened out), its interval, and p that all are alike."""

    factor: str
    means: tuple[tuple[str, float, float | None, float | None], ...]
    p: float | None


@dataclass(frozen=True, slots=True)
class MeasuredResult:
    """Effects over `casts` casts; `s` is the spread between casts alike in settings and block, None without repeats."""

    casts: int
    s: float | None
    df: int
    effects: tuple[Effect, ...]
    levels: Levels | None


@dataclass(frozen=True, slots=True)
class SharesResult:
    """For each factor the share of bad casts at its settings, and an exact p within blocks (None for over two)."""

    casts: int
    factors: tuple[tuple[str, tuple[tuple[str, Share], ...], float | None], ...]


def evaluated(design: Design, values: Mapping[int, float]) -> MeasuredResult:
    """The effects from the value of each run (by its number in the trial). Raises Refused for too few."""
    runs = [run for run in design.runs if run.run in values]
    y = np.array([values[run.run] for run in runs], dtype=float)
    if len({run.levels for run in runs}) < design.combinations:
        raise Refused(
            t("{n} of {of} casts have a value; not every setting has one yet.", n=len(runs), of=len(design.runs)),
            t("Go on with the list of casts."),
        )
    if not design.two_level:
        return _levels(design, runs, y)
    names = [one.name for one in design.settings]
    signs = {name: np.array([2.0 * run.levels[at] - 1 for run in runs]) for at, name in enumerate(names)}
    terms: list[tuple[str, ...]] = [(name,) for name in names]
    if not design.half:  # of a half, an effect of two is that of the third
        terms += list(combinations(names, 2))
    columns = [np.prod([signs[name] for name in term], axis=0) / 2 for term in terms]
    fit = least_squares(np.column_stack([*columns, *_blocks(runs)]), y)
    if fit is None:
        return MeasuredResult(len(runs), None, 0, _without_repeats(terms, columns, y), None)
    effects = []
    for at, term in enumerate(terms):
        half = fit.t_quantile(0.95) * fit.u(at)
        by_lots = dealt_p(design, runs, columns[at], y) if len(term) == 1 else None
        value = float(fit.beta[at])
        effects.append(Effect(term, value, value - half, value + half, fit.p(at), by_lots))
    return MeasuredResult(len(runs), fit.s, fit.df, tuple(effects), None)


def _without_repeats(terms: list[tuple[str, ...]], columns: list[Vector], y: Vector) -> tuple[Effect, ...]:
    values = [float(np.mean(y[one > 0]) - np.mean(y[one < 0])) for one in columns]
    return tuple(Effect(term, value, None, None, None, None) for term, value in zip(terms, values, strict=True))


def _blocks(runs: list[Run]) -> list[Vector]:
    present = sorted({run.block for run in runs})
    return [np.array([float(run.block == block) for run in runs]) for block in present]


def _levels(design: Design, runs: list[Run], y: Vector) -> MeasuredResult:
    setting = design.settings[0]
    at_level = [np.array([float(run.levels[0] == n) for run in runs]) for n in range(len(setting.levels))]
    blocks = [one - one.mean() for one in _blocks(runs)[1:]]  # so that a level's coefficient is its mean
    fit = least_squares(np.column_stack([*at_level, *blocks]), y)
    if fit is None:
        alone = [
            (name, float(y[one > 0].mean()), None, None) for name, one in zip(setting.levels, at_level, strict=True)
        ]
        return MeasuredResult(len(runs), None, 0, (), Levels(setting.name, tuple(alone), None))
    means = []
    for at, name in enumerate(setting.levels):
        row = np.zeros(fit.beta.size)
        row[at] = 1.0
        means.append((name, *fit.mean(row)))
    return MeasuredResult(len(runs), fit.s, fit.df, (), Levels(setting.name, tuple(means), _f_p(fit, blocks, y)))


def _f_p(fit: Fit, blocks: list[Vector], y: Vector) -> float:
    """p of all levels being alike: what the squares lose by them, by F."""
    alike = least_squares(np.column_stack([np.ones_like(y), *blocks]), y)
    assert alike is not None
    more = alike.df - fit.df
    if not fit.squares > 0:
        return 0.0
    return float(fdtrc(more, fit.df, (alike.squares - fit.squares) / more / (fit.squares / fit.df)))


def evaluated_shares(design: Design, failed: Mapping[int, bool]) -> SharesResult:
    """The shares of bad casts at each setting. Raises Refused while a setting has no judged cast."""
    runs = [run for run in design.runs if run.run in failed]
    found = []
    for at, setting in enumerate(design.settings):
        shares = []
        for level, name in enumerate(setting.levels):
            here = [failed[run.run] for run in runs if run.levels[at] == level]
            if not here:
                raise Refused(
                    t("No cast with {setting} is judged yet.", setting=name), t("Judge the casts of the trial.")
                )
            shares.append((name, Share(sum(here), len(here))))
        tables = [_table(runs, failed, at, block) for block in range(1, design.blocks + 1)]
        found.append((setting.name, tuple(shares), stratified_p(tables) if len(shares) == 2 else None))
    return SharesResult(len(runs), tuple(found))


def _table(runs: list[Run], failed: Mapping[int, bool], at: int, block: int) -> tuple[Share, Share]:
    first, second = (
        [failed[run.run] for run in runs if run.block == block and run.levels[at] == level] for level in (0, 1)
    )
    return Share(sum(first), len(first)), Share(sum(second), len(second))


def stratified_p(tables: list[tuple[Share, Share]]) -> float:
    """Exact two-sided p that shares are alike within every block: Fisher's test, for one block the very same.

    How many of the bad casts fall on the first side, over all blocks, with each block's margins held.
    """
    ways = {0: 1}
    seen = 0
    for one, other in tables:
        bad = one.bad + other.bad
        seen += one.bad
        here = {
            k: comb(one.of, k) * comb(other.of, bad - k) for k in range(max(0, bad - other.of), min(one.of, bad) + 1)
        }
        both: dict[int, int] = {}
        for k, count in ways.items():
            for more, times in here.items():
                both[k + more] = both.get(k + more, 0) + count * times
        ways = both
    return sum(count for count in ways.values() if count <= ways[seen]) / sum(ways.values())
