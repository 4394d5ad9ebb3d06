"""What of a reading is believed: pushes are not, a stream that begins anew is, at once."""

from __future__ import annotations

from itertools import pairwise

import pytest

from station.core.guidance.learned import nothing_yet
from station.core.guidance.level import Level
from station.core.guidance.pour import Phase, fell_short, heard
from station.core.guidance.trust import begun_anew, believed, sustained_g_s, trailed
from tests.core.guidance.hands import Hand, task


def levels(*flows: float) -> tuple[Level, ...]:
    """A level each tenth of a second, with these flows."""
    return tuple(Level(0.1 * n, float(n), flow, 0.01, 0.0, 0.01) for n, flow in enumerate(flows))


def test_a_stream_that_begins_is_reckoned_as_fast_as_it_will_be() -> None:
    steady, rising = levels(*[1.0] * 8), levels(0.0, 0.0, 0.0, 0.3, 0.6, 0.9, 1.2)
    assert begun_anew(steady).flow_g_s == pytest.approx(1.0)
    assert begun_anew(rising).flow_g_s == pytest.approx(1.2 + 0.9)
    assert begun_anew(levels(2.0, 1.5, 1.0, 0.5)).flow_g_s == pytest.approx(0.5)


def test_a_braking_hand_is_not_believed_to_pour_much_faster_than_a_moment_ago() -> None:
    assert believed(levels(*[1.0] * 10, 5.0), 0.1).flow_g_s == pytest.approx(1.4 + 0.05)
    assert believed(levels(*[1.0] * 10, 1.1), 0.1).flow_g_s == pytest.approx(1.1)


def test_the_trail_keeps_what_a_guard_needs_and_no_more() -> None:
    trail: tuple[Level, ...] = ()
    for level in levels(*[1.0] * 60):
        trail = trailed(trail, level)
    assert trail[-1].at_s - trail[0].at_s == pytest.approx(1.2)
    assert all(after.at_s > before.at_s for before, after in pairwise(trail))
    assert sustained_g_s(trail) == 1.0


def test_more_than_was_wanted_of_a_dribble_is_stopped_before_its_time() -> None:
    goal, known = task(lag=0.1), nothing_yet(0.1)
    hand = Hand(goal, known, lambda pace: max(0.6, 7.0 * (1 - pace)))
    hand.until_stopped()
    short = fell_short(hand.pour, hand.at_s, 61.4, goal, known)
    assert short.phase is Phase.DRIBBLING
    planned = short.stop_at_s
    assert planned is not None
    net = 61.4
    for n in range(1, 40):
        net += 0.3 if n > 3 else 0.0
        short = heard(short, hand.at_s + 0.1 * n, net, goal, known)
        if short.stop_at_s is not None and short.stop_at_s <= hand.at_s + 0.1 * n:
            break
    assert short.stop_at_s is not None
    assert short.stop_at_s < planned
    assert net < 61.9
