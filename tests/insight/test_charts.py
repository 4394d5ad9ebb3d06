"""Charts of single figures: which casts are marked, how often without a cause, and how sure the limits are."""

import math
from collections import Counter

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.insight.individuals import FEWEST, RUN, Limits, Rule, individuals, marked
from station.insight.smoothed import smoothed

LIMITS = Limits(middle=10, sigma=1, low=7, high=13, range_mean=1.128, range_high=3.685, sigma_off=0.1)


def test_a_figure_beyond_a_limit_is_marked_and_one_on_it_is_not():
    assert marked([10, 13, 13.01, 10, 6.99, 7], LIMITS) == ((2, Rule.BEYOND), (4, Rule.BEYOND))


def test_nine_in_a_row_on_one_side_are_marked_and_eight_are_not():
    eight = [9.0] + [10.5] * (RUN - 1) + [9.0]
    assert marked(eight, LIMITS) == ()
    nine = [9.0] + [10.5] * RUN + [9.0]
    assert marked(nine, LIMITS) == tuple((place, Rule.RUN) for place in range(1, RUN + 1))


def test_a_figure_on_the_middle_ends_a_run_and_begins_none():
    assert marked([10.5] * 5 + [10.0] + [10.5] * 5, LIMITS) == ()


def test_a_tenth_in_the_run_is_marked_too_and_one_beyond_is_told_for_that():
    found = marked([10.5] * RUN + [13.5], LIMITS)
    assert [rule for _, rule in found] == [Rule.RUN] * RUN + [Rule.BEYOND]


def test_fewer_figures_than_five_have_no_limits():
    assert individuals([1.0] * (FEWEST - 1)) is None
    assert individuals([1.0] * FEWEST) is not None


@given(st.floats(-1e6, 1e6), st.integers(FEWEST, 40))
def test_figures_that_are_all_the_same_are_never_marked(value, count):
    chart = individuals([value] * count)
    assert chart.marks == ()
    assert smoothed(chart.values, chart.limits.middle, chart.limits.sigma).beyond == ()


@given(st.lists(st.integers(-1000, 1000), min_size=FEWEST, max_size=40), st.integers(1, 50), st.integers(-500, 500))
def test_another_unit_marks_the_same_casts(values, times, plus):
    # A power of two scales without rounding.
    other = [value * 2.0**times + plus * 2.0**times for value in values]
    assert individuals(other).marks == individuals([float(value + plus) for value in values]).marks


def charts(count, of, seed):
    luck = np.random.default_rng(seed)
    return [individuals(luck.standard_normal(of).tolist()) for _ in range(count)]


def test_of_thirty_casts_that_differ_by_chance_nine_charts_in_a_hundred_are_marked():
    # What `Rule` says, by 1,500 charts: 0.089 ± 0.007 is one standard error.
    share = sum(bool(chart.marks) for chart in charts(1500, 30, seed=7)) / 1500
    assert share == pytest.approx(0.089, abs=0.022)


def test_a_step_of_two_standard_deviations_is_mostly_found():
    # The other side: casts 16 to 30 lie two standard deviations higher. Seven charts in ten have a mark; the smoothed
    # figures leave their limits in nearly eight.
    luck = np.random.default_rng(8)
    shifted = [luck.standard_normal(15).tolist() + (luck.standard_normal(15) + 2).tolist() for _ in range(300)]
    made = [individuals(values) for values in shifted]
    assert sum(bool(chart.marks) for chart in made) > 0.62 * 300
    smooth = [smoothed(chart.values, chart.limits.middle, chart.limits.sigma) for chart in made]
    assert sum(bool(one.beyond) for one in smooth) > 0.68 * 300


def test_the_standard_error_of_sigma_is_what_charts_show():
    for of in (10, 30):
        made = charts(1500, of, seed=9)
        seen = np.std([chart.limits.sigma for chart in made])
        assert seen == pytest.approx(made[0].limits.sigma_off, rel=0.08)


def test_smoothed_figures_follow_a_drift_that_no_single_one_shows():
    values = [0.0, 0.2, -0.2, 0.1, -0.1] + [1.5] * 8
    found = smoothed(values, 0.0, 1.0)
    assert max(values) < 3
    assert found.beyond
    assert all(place >= 5 for place in found.beyond)


@given(st.lists(st.floats(-100, 100), min_size=1, max_size=30))
def test_a_weight_of_one_smooths_nothing(values):
    found = smoothed(values, 0.0, 1.0, weight=1.0)
    assert list(found.values) == values
    assert {(low, high) for low, high in found.limits} == {(-3.0, 3.0)}


def test_marks_are_told_once_for_each_cast():
    chart = individuals([0.0, 1.0] * 6 + [30.0])
    assert max(Counter(place for place, _ in chart.marks).values()) == 1
    assert math.isclose(chart.limits.high - chart.limits.low, 6 * chart.limits.sigma)
