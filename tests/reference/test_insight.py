"""Statistics of casts against published figures: NIST StRD, the NIST/SEMATECH e-Handbook, Newcombe 1998, scipy and
statsmodels.

The handbook's and StRD's figures are in the public domain (https://www.itl.nist.gov/div898/).
"""

import math

import numpy as np
import pytest
from scipy import stats
from statsmodels.stats.proportion import proportion_confint
from statsmodels.tsa.stattools import acf

from station.insight.capability import Tolerance, capability
from station.insight.individuals import individuals
from station.insight.proportions import proportion
from station.insight.smoothed import smoothed, within
from station.insight.spread import spread

# NIST StRD, univariate summary statistics: Mavro (filter transmittance), lower difficulty.
MAVRO = """
2.00180 2.00170 2.00180 2.00190 2.00180 2.00170 2.00150 2.00140 2.00150 2.00150
2.00170 2.00180 2.00180 2.00190 2.00190 2.00210 2.00200 2.00160 2.00140 2.00130
2.00130 2.00150 2.00150 2.00160 2.00150 2.00140 2.00130 2.00140 2.00150 2.00140
2.00150 2.00160 2.00150 2.00160 2.00190 2.00200 2.00200 2.00210 2.00220 2.00230
2.00240 2.00250 2.00270 2.00260 2.00260 2.00260 2.00270 2.00260 2.00250 2.00240
"""
# NIST StRD: Michelso (speed of light in air, Michelson 1879, Mm/s), lower difficulty.
MICHELSO = """
299.85 299.74 299.90 300.07 299.93 299.85 299.95 299.98 299.98 299.88
300.00 299.98 299.93 299.65 299.76 299.81 300.00 300.00 299.96 299.96
299.96 299.94 299.96 299.94 299.88 299.80 299.85 299.88 299.90 299.84
299.83 299.79 299.81 299.88 299.88 299.83 299.80 299.79 299.76 299.80
299.88 299.88 299.88 299.86 299.72 299.72 299.62 299.86 299.97 299.95
299.88 299.91 299.85 299.87 299.84 299.84 299.85 299.84 299.84 299.84
299.89 299.81 299.81 299.82 299.80 299.77 299.76 299.74 299.75 299.76
299.91 299.92 299.89 299.86 299.88 299.72 299.84 299.85 299.85 299.78
299.89 299.84 299.78 299.81 299.76 299.81 299.79 299.81 299.82 299.85
299.87 299.87 299.81 299.74 299.81 299.94 299.95 299.80 299.81 299.87
"""


def figures(text):
    return [float(word) for word in text.split()]


STRD = [
    pytest.param(figures(MAVRO), 2.00185600000000, 0.000429123454003053, 0.937989183438248, 1e-12, id="Mavro"),
    pytest.param(figures(MICHELSO), 299.852400000000, 0.0790105478190518, 0.535199668621283, 1e-12, id="Michelso"),
    pytest.param([10000001.0, 10000003.0, 10000002.0], 10000002.0, 1.0, -0.5, 1e-15, id="NumAcc1"),
    # NumAcc2 to 4 begin with their mean and go on between a tenth below and above it, 1001 figures. The decimals of the
    # last are no doubles: the closest hold eight digits of the deviation.
    pytest.param([1.2] + [1.1, 1.3] * 500, 1.2, 0.1, -0.999, 1e-12, id="NumAcc2"),
    pytest.param([1000000.2] + [1000000.1, 1000000.3] * 500, 1000000.2, 0.1, -0.999, 1e-9, id="NumAcc3"),
    pytest.param([10000000.2] + [10000000.1, 10000000.3] * 500, 10000000.2, 0.1, -0.999, 1e-7, id="NumAcc4"),
]


@pytest.mark.parametrize(("values", "mean", "sd", "lag1", "rel"), STRD)
def test_spread_gives_the_certified_values_of_strd(values, mean, sd, lag1, rel):
    found = spread(values)
    assert found.n == len(values)
    assert found.mean == pytest.approx(mean, rel=1e-14)
    assert found.sd == pytest.approx(sd, rel=rel)
    assert found.lag1 == pytest.approx(lag1, rel=max(rel, 1e-12))
    assert found.lag1 == pytest.approx(acf(values, nlags=1)[1], rel=1e-6)


def test_the_interval_of_the_mean_is_the_one_of_scipy():
    values = figures(MICHELSO)
    low, high = stats.t.interval(0.95, 99, np.mean(values), stats.sem(values))
    assert spread(values).mean_within == pytest.approx((low, high), rel=1e-12)


# NIST/SEMATECH e-Handbook 6.3.2.2, individuals control charts: ten batches of flowrates.
FLOWRATES = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]


def test_individuals_are_those_of_the_handbooks_flowrates():
    chart = individuals(FLOWRATES)
    assert chart.limits.middle == pytest.approx(50.81)
    assert chart.limits.range_mean == pytest.approx(1.8778, abs=5e-5)
    assert chart.limits.high == pytest.approx(55.8041, abs=5e-5)
    assert chart.limits.low == pytest.approx(45.8159, abs=5e-5)
    assert chart.marks == ()
    assert chart.few


def test_smoothed_figures_are_those_of_the_handbooks_example():
    # NIST/SEMATECH e-Handbook 6.3.2.4: target 50, s = 2.0539, weight 0.3; the limits printed there are settled ones.
    values = [52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, *FLOWRATES]
    printed = [
        *(50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33),
        *(50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99),
    ]
    found = smoothed(values, 50.0, 2.0539, 0.3)
    assert found.values == pytest.approx(printed, abs=0.005001)
    # The handbook cuts the factor off at 0.4201.
    assert within(50.0, 2.0539, 0.3) == pytest.approx((47.4115, 52.5884), abs=3e-4)
    # The first of the limits that grow is w sigma itself.
    assert found.limits[0].high == pytest.approx(50 + 3 * 2.0539 * 0.3)
    assert found.beyond == ()


def test_capability_is_that_of_the_handbooks_example():
    # NIST/SEMATECH e-Handbook 6.1.6: USL 20, LSL 8, mean 16, s 2: Cp 1.0, Cpk 0.6667. Fifty figures made to have those.
    rough = np.linspace(-1, 1, 50) ** 3
    values = (16 + 2 * (rough - rough.mean()) / rough.std(ddof=1)).tolist()
    found = capability(values, Tolerance(8, 20))
    assert found.cp == pytest.approx(1.0)
    assert found.cpk == pytest.approx(0.6667, abs=5e-5)
    # The intervals by the handbook's formulas, with the quantiles of scipy.
    low, high = np.sqrt(stats.chi2.ppf([0.025, 0.975], 49) / 49)
    assert found.cp_within == pytest.approx((low, high), rel=1e-9)
    half = stats.norm.ppf(0.975) * math.sqrt(1 / (9 * 50) + (2 / 3) ** 2 / (2 * 49))
    assert found.cpk_within == pytest.approx((2 / 3 - half, 2 / 3 + half), rel=1e-9)


# Newcombe, R. G. (1998), Two-sided confidence intervals for the single proportion, Statistics in Medicine 17, table I,
# method 3 (score without continuity correction); from memory, and so held against statsmodels below.
NEWCOMBE = [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605), (0, 20, 0.0, 0.1611), (1, 29, 0.0061, 0.1718)]


@pytest.mark.parametrize(("count", "of", "low", "high"), NEWCOMBE)
def test_shares_have_the_published_score_intervals(count, of, low, high):
    assert proportion(count, of).within == pytest.approx((low, high), abs=5e-5)


@pytest.mark.parametrize("level", [0.8, 0.95, 0.99])
def test_shares_have_the_score_intervals_of_two_libraries(level):
    # NIST/SEMATECH e-Handbook 7.2.4.1 takes 4 of 20 for its example.
    for count, of in [(4, 20), (0, 1), (1, 1), (7, 9), (20, 20), (333, 1000)]:
        mine = proportion(count, of, level).within
        assert mine == pytest.approx(proportion_confint(count, of, 1 - level, "wilson"), abs=1e-12)
        assert mine == pytest.approx(tuple(stats.binomtest(count, of).proportion_ci(level, "wilson")), abs=1e-12)
