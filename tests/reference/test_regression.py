"""Least squares and Fieller's interval against certified values and another library. The source stands beside each."""

import numpy as np
import pytest
import statsmodels.api as sm
from scipy.optimize import brentq

from station.insight.least_squares import least_squares
from station.insight.shot_mass import fieller

# NIST Statistical Reference Datasets, linear regression. Data and certified values from memory; that the fit gives the
# certified digits shows that both are remembered rightly.
NORRIS = """
0.1 0.2 338.8 337.4 118.1 118.2 888.0 884.6 9.2 10.1 228.1 226.5 668.5 666.3 998.5 996.3 449.1 448.6 778.9 777.0 559.2
558.2 0.3 0.4 0.1 0.6 778.1 775.5 668.8 666.9 339.3 338.0 448.9 447.5 10.8 11.6 557.7 556.0 228.3 228.1 998.0 995.8
888.8 887.6 119.6 120.2 0.3 0.3 0.6 0.3 557.6 556.8 339.3 339.1 888.0 887.2 998.5 999.0 778.9 779.0 10.2 11.1 117.6
118.3 228.9 229.2 668.4 669.1 449.2 448.9 0.2 0.5
"""
PONTIUS = """
.11019 .21956 .32949 .43899 .54803 .65694 .76562 .87487 .98292 1.09146 1.20001 1.30822 1.41599 1.52399 1.63194 1.73947
1.84646 1.95392 2.06128 2.16844 .11052 .22018 .32939 .43886 .54798 .65739 .76596 .87474 .98300 1.09150 1.20004 1.30818
1.41613 1.52408 1.63159 1.73965 1.84696 1.95445 2.06177 2.16829
"""


def test_norris():  # NIST StRD Norris, lower difficulty: y = B0 + B1 x, 36 observations
    y, x = np.array(NORRIS.split(), dtype=float).reshape(-1, 2).T
    fit = least_squares(np.column_stack([np.ones_like(x), x]), y)
    assert fit.beta == pytest.approx([-0.262323073774029, 1.00211681802045], rel=1e-11)
    assert [fit.u(0), fit.u(1)] == pytest.approx([0.232818234301152, 0.429796848199937e-3], rel=1e-10)
    assert fit.s == pytest.approx(0.884796396144373, rel=1e-11)
    assert fit.df == 34


def test_pontius():  # NIST StRD Pontius, lower difficulty: a quadratic, 40 observations
    y = np.array(PONTIUS.split(), dtype=float)
    x = np.tile(np.arange(1, 21) * 150_000.0, 2)
    fit = least_squares(np.column_stack([np.ones_like(x), x, x**2]), y)
    certified = [0.673565789473684e-3, 0.732059160401003e-6, -0.316081871345029e-14]
    assert fit.beta == pytest.approx(certified, rel=1e-9)
    spreads = [0.107938612033077e-3, 0.157817399981659e-9, 0.486652849992036e-16]
    assert [fit.u(at) for at in range(3)] == pytest.approx(spreads, rel=1e-9)
    assert fit.s == pytest.approx(0.205177424076185e-3, rel=1e-10)


def test_longley():  # NIST StRD Longley, higher difficulty: six badly conditioned columns; data from statsmodels
    data = sm.datasets.longley.load_pandas().data
    columns = ["GNPDEFL", "GNP", "UNEMP", "ARMED", "POP", "YEAR"]
    rows = np.column_stack([np.ones(len(data)), data[columns].to_numpy(dtype=float)])
    fit = least_squares(rows, data["TOTEMP"].to_numpy(dtype=float))
    certified = [
        -3482258.63459582,
        15.0618722713733,
        -0.358191792925910e-1,
        -2.02022980381683,
        -1.03322686717359,
        -0.511041056535807e-1,
        1829.15146461355,
    ]
    spreads = [
        890420.383607373,
        84.9149257747669,
        0.334910077722432e-1,
        0.488399681651699,
        0.214274163161675,
        0.226073200069370,
        455.478499142212,
    ]
    assert fit.beta == pytest.approx(certified, rel=1e-8)
    assert [fit.u(at) for at in range(7)] == pytest.approx(spreads, rel=1e-8)
    assert fit.s == pytest.approx(304.854073561965, rel=1e-9)


def test_fieller_is_where_the_band_of_the_mean_meets_the_wanted_value():
    # By another hand: statsmodels' confidence band of the mean, searched for the wanted value.
    draw = np.random.default_rng(11)
    x = np.array([52.0, 54, 55, 57, 58, 60, 61, 64])
    y = 0.004 + 0.0018 * x + draw.normal(0, 0.001, x.size)
    other = sm.OLS(y, sm.add_constant(x)).fit()

    def band(at, end):
        return other.get_prediction([[1.0, at]]).conf_int(alpha=0.05)[0][end] - 0.108

    low, high = brentq(lambda at: band(at, 1), 40, 70), brentq(lambda at: band(at, 0), 40, 70)
    fit = least_squares(np.column_stack([x, np.ones_like(x)]), y)
    found = fieller(fit, np.array([1.0, 0]), np.array([0, 1.0]), 0.108)
    assert found[1:] == pytest.approx((low, high), rel=1e-9)
    assert found[0] == pytest.approx((0.108 - other.params[0]) / other.params[1])


def test_p_and_intervals_of_a_fit_are_those_of_another_library():  # statsmodels OLS
    draw = np.random.default_rng(5)
    rows = np.column_stack([draw.normal(60, 3, 12), draw.normal(0, 4, 12), np.ones(12)])
    y = rows @ [0.0018, 0.0004, 0.01] + draw.normal(0, 0.001, 12)
    fit, other = least_squares(rows, y), sm.OLS(y, rows).fit()
    assert [fit.p(at) for at in range(3)] == pytest.approx(list(other.pvalues), rel=1e-7)
    there = other.get_prediction(rows[:1])
    assert fit.mean(rows[0])[1:] == pytest.approx(tuple(there.conf_int()[0]), rel=1e-9)
    assert fit.single(rows[0])[1:] == pytest.approx(tuple(there.conf_int(obs=True)[0]), rel=1e-9)
