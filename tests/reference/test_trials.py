"""Trials against published designs: the NIST/SEMATECH e-Handbook, Fisher's maize, other libraries."""

import math
from itertools import combinations, product

import numpy as np
import pytest
from scipy import stats
from statsmodels.stats.power import FTestAnovaPower, TTestIndPower

from station.insight.exact import fisher
from station.insight.shares import Share
from station.insight.trials.design import Design, Run, Setting, designed
from station.insight.trials.evaluation import evaluated, evaluated_shares, stratified_p
from station.insight.trials.power import power_of_groups, power_of_means, power_of_shares


def standard(names, values, blocks=1):
    """A two-level design in Yates' order (the first factor changes fastest), repeated in blocks, with its values."""
    settings = tuple(Setting(name, ("low", "high")) for name in names)
    levels = [tuple(reversed(one)) for one in product((0, 1), repeat=len(names))]
    runs = tuple(
        Run(at + 1 + block * len(levels), block + 1, one) for block in range(blocks) for at, one in enumerate(levels)
    )
    return Design(settings, blocks, 0, False, runs), dict(enumerate(values, 1))


def test_eddy_current_probe():
    # NIST/SEMATECH e-Handbook 5.6.1.5: 2^3 without repeats; effects, and t from the three-factor interaction.
    design, values = standard(("turns", "distance", "gauge"), (1.70, 4.57, 0.55, 3.39, 1.51, 4.59, 0.67, 4.29))
    found = evaluated(design, values)
    effects = {one.factors: one.value for one in found.effects}
    assert effects[("turns",)] == pytest.approx(3.10250)
    assert effects[("distance",)] == pytest.approx(-0.86750)
    assert found.df == 1
    assert found.s == pytest.approx(0.20152531564, rel=1e-6)
    first = found.effects[0]
    assert (first.high - first.low) / 2 == pytest.approx(12.7062 * 0.14249992371, rel=1e-4)
    assert first.value / 0.14249992371 == pytest.approx(21.8, abs=0.05)


def test_ceramic_strength_direction_in_blocks():
    # NIST/SEMATECH e-Handbook 5.4.7.1, strength in standard order; the batch (factor 5) taken as the block. Data from
    # memory. Effects by another hand: mean at high less mean at low, spread by a plain fit with numpy.
    strength = (
        "680.45 722.48 702.14 666.93 703.67 642.14 692.98 669.26 "
        "491.58 475.52 478.76 568.23 444.72 410.37 428.51 491.47 "
        "607.34 620.80 610.55 638.04 585.19 586.17 601.67 608.31 "
        "442.90 434.41 417.66 510.84 392.11 343.22 385.52 446.73"
    )
    y = np.array(strength.split(), dtype=float)
    # Two of the factors and the batch; the other two make repeats, so blocks here hold four casts of each combination.
    grid = [(run % 2, run // 8 % 2, run // 16) for run in range(32)]
    settings = (Setting("speed", ("slow", "fast")), Setting("direction", ("along", "across")))
    runs = tuple(Run(at + 1, batch + 1, (speed, way)) for at, (speed, way, batch) in enumerate(grid))
    found = evaluated(Design(settings, 2, 0, False, runs), dict(enumerate(y.tolist(), 1)))
    signs = np.array(
        [[2 * speed - 1, 2 * way - 1, (2 * speed - 1) * (2 * way - 1), 2 * b - 1] for speed, way, b in grid]
    )
    rows = np.column_stack([np.ones(32), signs / 2])
    beta, squares, *_ = np.linalg.lstsq(rows, y, rcond=None)
    assert [one.value for one in found.effects] == pytest.approx(beta[1:4].tolist())
    assert found.s == pytest.approx(math.sqrt(squares[0] / 27))
    assert found.effects[1].value == pytest.approx(y[signs[:, 1] > 0].mean() - y[signs[:, 1] < 0].mean())
    assert found.effects[1].p < 1e-10


def test_darwins_maize():
    # Fisher 1935, The Design of Experiments, sections 15 to 21: 15 pairs (blocks), sum of differences 314 eighths of an
    # inch; 1,726 of 32,768 arrangements are as large on either side: p = 5.267 %. By t: 4.97 %.
    differences = (49, -67, 8, 16, 6, 23, 28, 41, 14, 29, 56, 24, 75, 60, -48)
    runs, values = [], {}
    for pair, by in enumerate(differences, 1):
        for level, value in ((0, 0.0), (1, float(by))):
            runs.append(Run(len(runs) + 1, pair, (level,)))
            values[len(runs)] = value
    found = evaluated(Design((Setting("crossed", ("self", "cross")),), 15, 0, False, tuple(runs)), values)
    effect = found.effects[0]
    assert effect.value == pytest.approx(314 / 15)
    assert effect.p == pytest.approx(0.0497, abs=5e-5)
    assert effect.by_lots == pytest.approx(1726 / 32768, rel=0.11)  # sampled, since the ways are above the exact limit
    # The first twelve pairs are few enough for all ways; by brute force.
    few = Design((Setting("crossed", ("self", "cross")),), 12, 0, False, tuple(runs[:24]))
    sums = [abs(sum(s * d for s, d in zip(signs, differences, strict=False))) for signs in product((1, -1), repeat=12)]
    seen = abs(sum(differences[:12]))
    by_lots = evaluated(few, {at: value for at, value in values.items() if at <= 24}).effects[0].by_lots
    assert by_lots == pytest.approx(sum(one >= seen for one in sums) / 4096)


def test_one_factor_at_three_settings_is_an_analysis_of_variance():
    # NIST/SEMATECH e-Handbook 7.4.3.3 (from memory): three levels of five, F = 9.59, p = 0.00325.
    levels = ((6.9, 5.4, 5.8, 4.6, 4.0), (8.3, 6.8, 7.8, 9.2, 6.5), (8.0, 10.5, 8.1, 6.9, 9.3))
    runs = tuple(Run(1 + level + 3 * at, 1, (level,)) for level in range(3) for at in range(5))
    values = {1 + level + 3 * at: value for level, some in enumerate(levels) for at, value in enumerate(some)}
    found = evaluated(Design((Setting("level", ("1", "2", "3")),), 1, 0, False, runs), values)
    assert found.levels.p == pytest.approx(stats.f_oneway(*levels)[1])
    assert found.levels.p == pytest.approx(0.00325, abs=5e-5)
    assert [mean for _, mean, _, _ in found.levels.means] == pytest.approx([5.34, 7.72, 8.56])
    assert found.s == pytest.approx(math.sqrt(1.454), abs=5e-4)


def test_shares_within_blocks():
    assert stratified_p([(Share(3, 4), Share(1, 4))]) == pytest.approx(fisher(3, 1, 1, 3))
    tables = [(Share(2, 2), Share(0, 2)), (Share(1, 2), Share(0, 1)), (Share(2, 3), Share(1, 3))]
    counts = {}  # by brute force: the bad ones of each block placed in every way
    places = [list(combinations(range(one.of + other.of), one.bad + other.bad)) for one, other in tables]
    for chosen in product(*places):
        first = sum(sum(at < one.of for at in block) for block, (one, _) in zip(chosen, tables, strict=True))
        counts[first] = counts.get(first, 0) + 1
    p = sum(n for n in counts.values() if n <= counts[5]) / sum(counts.values())
    assert stratified_p(tables) == pytest.approx(p)


def test_a_trial_of_shares_counts_each_setting():
    design = designed((Setting("mix time", ("60 s", "95 s")),), 4, 7)
    failed = {run.run: run.levels[0] == 0 for run in design.runs}
    found = evaluated_shares(design, failed)
    ((name, shares, p),) = found.factors
    assert (name, shares) == ("mix time", (("60 s", Share(4, 4)), ("95 s", Share(0, 4))))
    assert p == pytest.approx(2 / 16)  # one bad of two in each of four blocks


@pytest.mark.parametrize(("apart", "each"), [(1.0, 4), (2.0, 4), (3.0, 3), (0.5, 20)])
def test_power_of_means_is_that_of_statsmodels(apart, each):
    other = TTestIndPower().power(effect_size=apart, nobs1=each, alpha=0.05)
    assert power_of_means(apart, each, 2 * each - 2) == pytest.approx(other, abs=1e-6)


def test_power_of_three_settings_is_that_of_statsmodels():
    # The two outermost 2 apart, the third between them: Cohen's f² = (1 + 0 + 1) / 3.
    other = FTestAnovaPower().power(effect_size=math.sqrt(2 / 3), nobs=12, alpha=0.05, k_groups=3)
    assert power_of_groups(2.0, 3, 4, 9) == pytest.approx(other, abs=1e-6)


def test_power_of_shares_is_what_a_simulation_finds():
    draw = np.random.default_rng(4)
    one, other = draw.binomial(6, 0.8, 20_000), draw.binomial(6, 0.1, 20_000)
    known = {(a, b): stats.fisher_exact([[a, 6 - a], [b, 6 - b]])[1] <= 0.05 for a in range(7) for b in range(7)}
    seen = np.mean([known[pair] for pair in zip(one.tolist(), other.tolist(), strict=True)])
    assert power_of_shares(0.8, 0.1, 6) == pytest.approx(seen, abs=4 * math.sqrt(0.25 / 20_000))
