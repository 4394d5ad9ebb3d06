"""A line learned point by point, against numpy: the closed form of Bayesian regression, and NIST's Norris data."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.core.guidance.line import Line

POINTS = st.lists(st.tuples(st.floats(0, 10), st.floats(-20, 20)), min_size=1, max_size=20)


@given(POINTS, st.floats(0.05, 4))
def test_one_point_after_the_other_gives_what_all_at_once_give(points: list[tuple[float, float]], noise: float) -> None:
    line = Line(0.3, 0.8, 0.5, -0.1, 0.4)
    prior = np.array([[0.5, -0.1], [-0.1, 0.4]])
    for x, y in points:
        line = line.seen(x, y - line.at(x), noise)
    design = np.array([[1.0, x] for x, _ in points])
    precision = np.linalg.inv(prior) + design.T @ design / noise
    mean = np.linalg.solve(
        precision, np.linalg.inv(prior) @ [0.3, 0.8] + design.T @ np.array([y for _, y in points]) / noise
    )
    covariance = np.linalg.inv(precision)
    assert (line.start, line.slope) == pytest.approx(tuple(mean), abs=1e-6)
    assert line.doubt_var(2.0) == pytest.approx(np.array([1, 2]) @ covariance @ np.array([1, 2]), abs=1e-8)


NORRIS = """
0.2 0.1 337.4 338.8 118.2 118.1 884.6 888.0 10.1 9.2 226.5 228.1 666.3 668.5 996.3 998.5 448.6 449.1 777.0 778.9
558.2 559.2 0.4 0.3 0.6 0.1 775.5 778.1 666.9 668.8 338.0 339.3 447.5 448.9 11.6 10.8 556.0 557.7 228.1 228.3
995.8 998.0 887.6 888.8 120.2 119.6 0.3 0.3 0.3 0.6 556.8 557.6 339.1 339.3 887.2 888.0 999.0 998.5 779.0 778.9
11.1 10.2 118.3 117.6 229.2 228.9 669.1 668.4 448.9 449.2 0.5 0.2
"""
"""x and y in turn: NIST StRD, linear regression, "Norris"; certified -0.262323073774029 and 1.00211681802045."""


def test_with_hardly_a_prior_it_is_least_squares_by_nists_certified_values() -> None:
    numbers = [float(word) for word in NORRIS.split()]
    line = Line(0.0, 0.0, 1e6, 0.0, 1e6)
    for at, value in zip(numbers[::2], numbers[1::2], strict=True):
        line = line.seen(at, value - line.at(at), 1.0)
    assert line.slope == pytest.approx(1.00211681802045, rel=1e-6)
    assert line.start == pytest.approx(-0.262323073774029, rel=1e-5)


def test_growing_old_leaves_the_line_and_widens_its_doubt() -> None:
    line = Line(1.0, 2.0, 0.1, 0.01, 0.2)
    old = line.doubted(2.0)
    assert old.at(3.0) == line.at(3.0)
    assert old.doubt_var(3.0) == pytest.approx(2 * line.doubt_var(3.0))
