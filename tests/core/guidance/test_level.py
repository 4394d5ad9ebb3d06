"""Level and flow from readings, held against a filter written out with matrices."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.core.guidance.level import UNSTEADY, begun, noise_var, told

D = 0.1


def by_matrices(readings: list[tuple[float, float]]) -> tuple[np.ndarray, np.ndarray]:
    """The textbook Kalman filter for a constant velocity with white acceleration; no innovation is odd here."""
    at, first = readings[0]
    x, p = np.array([first, 0.0]), np.diag([noise_var(D), (3 * D) ** 2])
    for then, value in readings[1:]:
        dt, at = then - at, then
        f = np.array([[1, dt], [0, 1]])
        q = (UNSTEADY * max(abs(x[1]), 0.3 * D)) ** 2 * np.array([[dt**3 / 3, dt**2 / 2], [dt**2 / 2, dt]])
        x, p = f @ x, f @ p @ f.T + q
        s = p[0, 0] + noise_var(D)
        gain = p[:, 0] / s
        x = x + gain * (value - x[0])
        p = p - np.outer(gain, p[0])
    return x, p


@pytest.mark.parametrize("flow", [0.0, 0.4, 1.2])
def test_it_is_the_textbook_filter_while_nothing_surprises(flow: float) -> None:
    readings = [(0.1 * n, round((flow * 0.1 * n) / D) * D) for n in range(40)]
    level = begun(*readings[0], D)
    for reading in readings[1:]:
        level = told(level, *reading, D)
    x, p = by_matrices(readings)
    assert (level.mass_g, level.flow_g_s) == pytest.approx(tuple(x), abs=1e-9)
    assert (level.var_mass, level.covar, level.var_flow) == pytest.approx((p[0, 0], p[0, 1], p[1, 1]), abs=1e-9)


@pytest.mark.parametrize("rate", [5.0, 10.0, 20.0])
def test_a_steady_stream_is_known_within_two_seconds(rate: float) -> None:
    level = begun(0.0, 0.0, D)
    for n in range(1, round(2 * rate)):
        level = told(level, n / rate, round(3.0 * n / rate / D) * D, D)
    assert level.flow_g_s == pytest.approx(3.0, rel=0.1)
    assert level.at(level.at_s + 1.0) == pytest.approx(level.mass_g + level.flow_g_s)


def test_a_stream_that_begins_all_at_once_is_seen_at_once() -> None:
    level = begun(0.0, 0.0, D)
    for n in range(1, 21):
        level = told(level, 0.1 * n, 0.0, D)
    for n in range(1, 6):
        level = told(level, 2.0 + 0.1 * n, 1.5 * n, D)
    assert level.flow_g_s == pytest.approx(15.0, rel=0.1)


def test_lines_that_come_late_and_in_a_bunch_are_no_sudden_flow() -> None:
    level = begun(0.0, 0.0, D)
    for n in range(1, 40):
        level = told(level, 0.1 * n, 0.1 * n * 4.0, D)
    calm, worst = level.flow_g_s, 0.0
    for n in range(40, 60):
        at = 0.1 * n if n < 44 or n > 48 else 4.8 + 0.001 * (n - 43)
        level = told(level, at, 0.1 * n * 4.0, D)
        worst = max(worst, abs(level.flow_g_s - calm))
    assert worst < 0.6 * calm
    assert level.flow_g_s == pytest.approx(4.0, rel=0.1)


def test_time_that_does_not_go_on_changes_nothing() -> None:
    level = begun(5.0, 1.0, D)
    assert told(level, 5.0, 99.0, D) is level
    assert told(level, 4.0, 99.0, D) is level


@given(st.lists(st.floats(-500, 5000), min_size=2, max_size=60), st.sampled_from([0.01, 0.1, 1.0]))
def test_whatever_the_scale_says_the_variances_stay_variances(loads: list[float], d: float) -> None:
    level = begun(0.0, loads[0], d)
    for n, load in enumerate(loads[1:], 1):
        level = told(level, 0.1 * n, load, d)
        assert level.var_mass > 0
        assert level.var_flow > 0
        assert level.covar**2 <= level.var_mass * level.var_flow * (1 + 1e-6)
