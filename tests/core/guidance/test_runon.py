"""What still comes after a stop is learned: from people made of a known line and scatter."""

from __future__ import annotations

import random
import statistics

import pytest

from station.core.guidance.runon import RunOn, stranger, taught

FLOOR = 0.05**2


def learned_from(pours: int, seed: int, rest: float = 0.1, time_s: float = 1.1, scatter_s: float = 0.12) -> RunOn:
    dice, runon = random.Random(seed), stranger(0.3)
    for _ in range(pours):
        flow = dice.uniform(0.6, 2.5)
        came = rest + (time_s + dice.gauss(0, scatter_s)) * flow + dice.gauss(0, 0.05)
        runon = taught(runon, flow, came, FLOOR)
    return runon


def test_after_a_few_pours_the_run_on_is_the_persons_own() -> None:
    at = [learned_from(5, seed).comes(1.2) for seed in range(40)]
    assert statistics.mean(at) == pytest.approx(0.1 + 1.1 * 1.2, abs=0.08)
    assert stranger(0.3).comes(1.2) < 1.1


def test_the_scatter_is_learned_too() -> None:
    calm = [learned_from(20, seed, scatter_s=0.05).scatter_s for seed in range(30)]
    wild = [learned_from(20, seed, scatter_s=0.3).scatter_s for seed in range(30)]
    assert statistics.mean(calm) < 0.1
    assert statistics.mean(wild) == pytest.approx(0.27, abs=0.07)


def test_doubt_shrinks_with_lessons_and_never_below_the_scatter() -> None:
    one, many = learned_from(1, 3), learned_from(15, 3)
    assert many.line.doubt_var(1.2) < one.line.doubt_var(1.2) < stranger(0.3).line.doubt_var(1.2)
    assert many.var(1.2) >= (1.2 * many.scatter_s) ** 2


def test_a_hand_on_the_pan_teaches_nothing_but_doubt() -> None:
    before = learned_from(6, 5)
    after = taught(before, 1.2, -20.0, FLOOR)
    assert after.comes(1.2) == before.comes(1.2)
    assert after.scatter_s == before.scatter_s
    assert after.line.doubt_var(1.2) > before.line.doubt_var(1.2)


def test_a_scale_that_is_much_slower_than_its_settings_is_still_learned() -> None:
    runon = stranger(0.3)
    for _ in range(8):
        runon = taught(runon, 1.2, 1.2 * 1.7, FLOOR)
    assert runon.comes(1.2) == pytest.approx(1.2 * 1.7, rel=0.07)


def test_a_stop_without_flow_teaches_no_scatter() -> None:
    before = stranger(0.5)
    assert taught(before, 0.0, 0.06, FLOOR).scatter_s == before.scatter_s
