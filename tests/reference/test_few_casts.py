"""Exact and penalised tests of few cases against published examples and other libraries. Each names its source."""

import math
from itertools import combinations, pairwise

import numpy as np
import pytest
import statsmodels.api as sm
from scipy import stats
from scipy.optimize import minimize
from statsmodels.stats.multitest import multipletests
from statsmodels.stats.proportion import confint_proportions_2indep, proportion_confint

from station.insight.cut import best_cut, groups_p, larger_chance
from station.insight.exact import fisher, holm
from station.insight.firth import Curve
from station.insight.shares import Share, apart


def test_the_lady_and_her_tea():  # Fisher 1935, The Design of Experiments, chapter 2: 3 of 4 right, one-sided 17 of 70
    assert fisher(3, 1, 1, 3) == pytest.approx(34 / 70)
    assert fisher(4, 0, 0, 4) == pytest.approx(2 / 70)


def test_convictions_of_like_sex_twins():  # Fisher 1934 (R's fisher.test example, from memory): 2-sided p = 0.0005367
    assert fisher(2, 15, 10, 3) == pytest.approx(0.0005367, abs=5e-8)


def test_fisher_is_that_of_scipy():
    draw = np.random.default_rng(2)
    for a, b, c, d in draw.integers(0, 14, (200, 4)).tolist():
        assert fisher(a, b, c, d) == pytest.approx(stats.fisher_exact([[a, b], [c, d]])[1], rel=1e-9)


def test_holm_is_that_of_statsmodels():
    draw = np.random.default_rng(3)
    for n in (1, 2, 5, 12):
        ps = draw.random(n) ** 3
        assert holm(tuple(ps)) == pytest.approx(multipletests(ps, method="holm")[1])


def test_intervals_of_shares_are_those_of_statsmodels():
    for bad, of in ((0, 5), (1, 9), (5, 6), (9, 9), (3, 40)):
        assert Share(bad, of).interval() == pytest.approx(proportion_confint(bad, of, method="wilson"), abs=1e-12)
    by, low, high = apart(Share(5, 6), Share(1, 9))
    other = confint_proportions_2indep(5, 6, 1, 9, method="newcomb", compare="diff")
    assert (by, low, high) == pytest.approx((5 / 6 - 1 / 9, *other))


def test_newcombes_example():  # Newcombe 1998, Statist. Med. 17, 873, table II, method 10 (from memory)
    assert apart(Share(56, 70), Share(48, 80)) == pytest.approx((0.2, 0.0524, 0.3339), abs=5e-5)


def test_the_price_of_the_cut_is_that_of_all_ways():
    # By brute force: every way to place the bad ones, every cut, chi-square computed from the table by scipy.
    values = [41.0, 48, 52, 55, 55, 61, 70, 72, 80]
    bad = [True, True, False, True, False, False, False, False, False]

    def largest(chosen):
        best = 0.0
        for at in {(a + b) / 2 for a, b in pairwise(values) if a < b}:
            under = [n in chosen for n, value in enumerate(values) if value < at]
            over = [n in chosen for n, value in enumerate(values) if value > at]
            if min(len(under), len(over)) >= 2:
                table = [[sum(under), len(under) - sum(under)], [sum(over), len(over) - sum(over)]]
                best = max(best, stats.chi2_contingency(table, correction=False)[0])
        return best

    seen = largest({n for n, one in enumerate(bad) if one})
    ways = [largest(set(chosen)) for chosen in combinations(range(9), 3)]
    cut = best_cut(values, bad)
    assert cut.exact
    assert cut.p == pytest.approx(sum(way >= seen - 1e-9 for way in ways) / len(ways))
    # Without the price, by the same table alone, it would look surer than it is.
    alone = fisher(cut.under.bad, cut.under.of - cut.under.bad, cut.over.bad, cut.over.of - cut.over.bad)
    assert alone < cut.p
    assert cut.larger == pytest.approx(stats.mannwhitneyu([41, 48, 55], [52, 55, 61, 70, 72, 80]).statistic / 18)
    assert larger_chance([2.0], [1.0, 2.0]) == 0.75


def test_the_worst_lot_pays_for_being_chosen():
    # By brute force, with chi-square of each lot against all others by scipy; a lot of one cast is no lot to choose.
    lots = ["a"] * 4 + ["b"] * 4 + ["c"] * 2 + ["d"]
    bad = [True, True, True, False, False, False, False, True, False, False, False]

    def largest(chosen):
        best = 0.0
        for lot in "abc":
            here = [n in chosen for n, one in enumerate(lots) if one == lot]
            there = [n in chosen for n, one in enumerate(lots) if one != lot]
            table = [[sum(here), len(here) - sum(here)], [sum(there), len(there) - sum(there)]]
            best = max(best, stats.chi2_contingency(table, correction=False)[0])
        return best

    seen = largest({n for n, one in enumerate(bad) if one})
    ways = [largest(set(chosen)) for chosen in combinations(range(11), 4)]
    p, exact = groups_p(lots, bad)
    assert exact
    assert p == pytest.approx(sum(way >= seen - 1e-9 for way in ways) / len(ways))


def test_firths_penalty_adds_half_a_case_to_each_cell():
    # Firth 1993, section 3: in a saturated model of a table of two by two the estimate is the log odds of counts + 1/2.
    values = [0.0] * 8 + [1.0] * 9
    bad = [True] * 8 + [False] * 0 + [True] * 3 + [False] * 6  # no good one at 0: separated, no finite plain estimate
    curve = Curve(values, bad)
    assert curve.intercept == pytest.approx(math.log(8.5 / 0.5), rel=1e-7)
    assert curve.intercept + curve.per_unit == pytest.approx(math.log(3.5 / 6.5), rel=1e-7)


def test_a_penalised_curve_is_what_a_general_optimiser_finds():
    draw = np.random.default_rng(7)
    x = draw.normal(80, 12, 24)
    y = (draw.random(24) < 1 / (1 + np.exp((x - 74) / 5))).astype(float)

    def minus(beta):
        at = beta[0] + beta[1] * (x - 80)
        chance = 1 / (1 + np.exp(-at))
        rows = np.column_stack([np.ones_like(x), x - 80])
        _, half = np.linalg.slogdet(rows.T @ (rows * (chance * (1 - chance))[:, None]))
        return -float(np.sum(y * np.log(chance) + (1 - y) * np.log(1 - chance))) - half / 2

    found = minimize(minus, [0.0, 0.0], method="Nelder-Mead", options={"xatol": 1e-10, "fatol": 1e-13, "maxiter": 4000})
    curve = Curve(x.tolist(), (y > 0).tolist())
    assert curve.per_unit == pytest.approx(found.x[1], rel=1e-5)
    assert curve.intercept + 80 * curve.per_unit == pytest.approx(found.x[0], rel=1e-4)
    slope = curve.slope()
    for end in (
        slope.low,
        slope.high,
    ):  # at both ends the penalised likelihood has fallen by half of chi-square(1, 95 %)
        held = minimize(lambda a, end=end: minus([a[0], end]), [0.0], method="Nelder-Mead", options={"xatol": 1e-10})
        assert held.fun - found.fun == pytest.approx(stats.chi2.ppf(0.95, 1) / 2, rel=1e-4)
    limit = curve.limit(0.1)
    assert curve.chance(limit.at) == pytest.approx(0.1)
    for end in (limit.low, limit.high):
        held = minimize(
            lambda b, end=end: minus([math.log(1 / 9) - b[0] * (end - 80), b[0]]), [-0.2], method="Nelder-Mead"
        )
        assert held.fun - found.fun == pytest.approx(stats.chi2.ppf(0.95, 1) / 2, rel=1e-3)


def test_with_many_cases_the_penalty_fades():  # statsmodels Logit
    draw = np.random.default_rng(8)
    x = draw.normal(0, 1, 4000)
    y = draw.random(4000) < 1 / (1 + np.exp(-(0.3 + 0.8 * x)))
    other = sm.Logit(y.astype(float), sm.add_constant(x)).fit(disp=0)
    curve = Curve(x.tolist(), y.tolist())
    assert curve.per_unit == pytest.approx(other.params[1], rel=2e-3)
    low, high = other.conf_int()[1]
    assert (curve.slope().low, curve.slope().high) == pytest.approx((low, high), rel=1e-2)
