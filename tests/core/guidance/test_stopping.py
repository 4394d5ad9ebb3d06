"""Where the stop falls, how fast is too fast, and dribbles: against probabilities that scipy knows."""

from __future__ import annotations

import math

import pytest
from scipy.stats import norm

from station.core.guidance.dribble import Dribbled, after, seconds_for, unknown
from station.core.guidance.learned import nothing_yet
from station.core.guidance.pacing import affordable_g_s, pace, wanted_g_s
from station.core.guidance.stopping import floor_var, outlook
from station.core.guidance.task import Strength, Task
from tests.core.guidance.hands import task


@pytest.mark.parametrize("strength", list(Strength))
@pytest.mark.parametrize("flow", [0.5, 2.0, 8.0])
def test_the_chance_of_overshoot_is_bounded_by_the_strength(strength: Strength, flow: float) -> None:
    goal = Task(62.4, 61.776, 63.024, 0.1, 0.3, strength)
    runon = nothing_yet(0.3).runon
    left = outlook(goal, runon, 50.0, flow).left_g
    end = 50.0 + left + runon.comes(flow)
    spread = math.sqrt(floor_var(goal) + runon.var(flow))
    assert norm.sf(goal.high_g, end, spread) <= norm.sf(strength.value) + 1e-9


def test_a_slow_stream_is_aimed_near_the_target_and_a_fast_one_below() -> None:
    goal, runon = task(), nothing_yet(0.3).runon
    slow, fast = outlook(goal, runon, 0.0, 0.3), outlook(goal, runon, 0.0, 8.0)
    assert slow.lowered_g == 0
    assert slow.left_g + runon.comes(0.3) == pytest.approx(62.4 - 0.1 * goal.tolerance_g)
    assert fast.lowered_g > 1


def test_caution_costs_flow() -> None:
    known = nothing_yet(0.3)
    flows = [affordable_g_s(Task(62.4, 61.8, 63.0, 0.1, 0.3, strength), known) for strength in Strength]
    assert flows == sorted(flows, reverse=True)


def test_the_pace_is_firmer_the_nearer_and_the_faster() -> None:
    goal, known = task(), nothing_yet(0.3)
    assert pace(goal, known, 40.0, 6.0, 7.0) == 0
    near = [pace(goal, known, left, 2.0, 7.0) for left in (20.0, 8.0, 4.0, 1.0, 0.0)]
    assert near == sorted(near)
    assert pace(goal, known, 2.0, 6.0, 7.0) > pace(goal, known, 2.0, 1.0, 7.0)
    assert wanted_g_s(goal, known, 0.0) == affordable_g_s(goal, known)


def test_an_unknown_dribble_begins_on_the_safe_side() -> None:
    goal = task()
    line = unknown(goal, 1.3)
    seconds = seconds_for(line, 0.9, 1.6, goal)
    spread = math.sqrt(line.doubt_var(seconds))
    assert line.at(seconds) <= 0.9
    assert line.at(seconds) + 2 * spread <= 1.6


def test_dribbles_are_sized_by_what_dribbles_weighed() -> None:
    goal, line = task(), unknown(task(), 1.3)
    for seconds in (1.2, 2.0, 2.6, 3.0):
        line = after(line, Dribbled(seconds, 0.25 * (seconds - 0.9)), goal)
    assert line.at(4.0) == pytest.approx(0.25 * 3.1, abs=0.15)
    assert 2.5 < seconds_for(line, 0.6, 1.3, goal) < 4.0


def test_a_dribble_that_brought_nothing_asks_for_a_longer_one() -> None:
    goal, line = task(), unknown(task(), 0.6)
    first = seconds_for(line, 0.8, 1.4, goal)
    assert seconds_for(after(line, Dribbled(first, 0.0), goal), 0.8, 1.4, goal) > first
