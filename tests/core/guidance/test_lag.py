"""A scale's lag from a step, with filters whose group delay is known: scipy computes it."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import signal

from station.core.guidance.lag import lag_of_step

HZ = 200


def smeared(taps: tuple[np.ndarray, np.ndarray], rate_hz: float, d: float = 0.1) -> list[tuple[float, float]]:
    load = np.where(np.arange(0, 6, 1 / HZ) >= 1.0, 80.0, 0.0)
    shown = signal.lfilter(*taps, load)
    every = round(HZ / rate_hz)
    return [(n / HZ, float(round(shown[n] / d) * d)) for n in range(0, len(load), every)]


def average(lag_s: float) -> tuple[np.ndarray, np.ndarray]:
    width = round(2 * lag_s * HZ)
    return np.ones(width) / width, np.array([1.0])


def two_poles(lag_s: float) -> tuple[np.ndarray, np.ndarray]:
    pole = np.exp(-1 / HZ / (lag_s / 2))
    return np.array([(1 - pole) ** 2]), np.array([1, -2 * pole, pole**2])


@pytest.mark.parametrize("lag_s", [0.3, 0.6, 1.0])
@pytest.mark.parametrize("rate_hz", [10, 20])
@pytest.mark.parametrize("filtering", [average, two_poles])
def test_the_lag_of_a_known_filter_is_found_to_a_fifth(filtering: object, lag_s: float, rate_hz: float) -> None:
    taps = filtering(lag_s)  # type: ignore[operator]
    _, delay = signal.group_delay(taps, w=[1e-4])
    assert delay[0] / HZ == pytest.approx(lag_s, rel=0.03)
    found = lag_of_step(smeared(taps, rate_hz), 0.1)
    assert found is not None
    assert found == pytest.approx(lag_s, rel=0.2)


@pytest.mark.parametrize(
    "readings",
    [
        [(0.1 * n, 0.0) for n in range(20)],
        [(0.1 * n, 0.0 if n < 10 else 80.0) for n in range(20)],
        [(0.1 * n, 80.0 if n < 10 else 0.0) for n in range(20)],
        [(0.1 * n, 4.0 * n) for n in range(20)],
        [(0.0, 0.0)],
    ],
    ids=["nothing", "between two readings", "lifted", "a pour", "one reading"],
)
def test_what_is_no_clean_step_tells_nothing(readings: list[tuple[float, float]]) -> None:
    assert lag_of_step(readings, 0.1) is None
