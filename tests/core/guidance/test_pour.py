"""One pour, reading by reading, with hands that are exactly known."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.core.guidance.learned import learn, nothing_yet
from station.core.guidance.pour import Phase, Pour, due, fell_short, heard, lesson, rested
from tests.core.guidance.hands import Hand, task


def obedient(coarse: float = 7.0, least: float = 0.6):  # type: ignore[no-untyped-def]
    return lambda pace: max(least, coarse * (1 - pace))


@pytest.mark.parametrize("rate", [5.0, 10.0, 20.0])
@pytest.mark.parametrize("lag", [0.1, 0.3, 0.6])
def test_a_hand_that_follows_ends_in_its_window_the_first_time(lag: float, rate: float) -> None:
    hand = Hand(task(lag=lag), nothing_yet(lag), obedient(), rate_hz=rate)
    hand.go(1.0, pouring=False)
    hand.until_stopped()
    assert len(hand.stops) == 1
    assert hand.task.low_g <= hand.grams <= hand.task.high_g


@pytest.mark.parametrize("deaf", [lambda pace: 7.0, lambda pace: 3.0])
def test_a_hand_that_is_deaf_to_the_pace_is_stopped_short_and_not_over(deaf: object) -> None:
    hand = Hand(task(), nothing_yet(0.3), deaf, late_s=0.5)  # type: ignore[arg-type]
    hand.until_stopped()
    assert hand.grams <= hand.task.high_g


def test_the_pace_rises_while_the_stream_comes_near_and_is_silent_before_it_begins() -> None:
    hand = Hand(task(), nothing_yet(0.3), obedient())
    hand.go(3.0, pouring=False)
    assert set(hand.paces) == {0.0}
    hand.until_stopped()
    assert max(hand.paces) > 0.7
    thirds = [hand.paces[i] for i in range(0, len(hand.paces), len(hand.paces) // 3)]
    assert thirds == sorted(thirds)


def test_a_slow_person_teaches_and_the_next_stop_comes_earlier() -> None:
    learned, ends = nothing_yet(0.3), []
    for _ in range(4):
        hand = Hand(task(), learned, obedient(), late_s=0.9)
        hand.until_stopped()
        hand.pour = rested(hand.pour, hand.grams)
        learned = learn(learned, lesson(hand.pour), hand.task)
        ends.append(hand.grams)
    assert learned.pours == 4
    assert learned.runon.time_s > nothing_yet(0.3).runon.time_s
    assert abs(ends[-1] - 62.4) < abs(ends[0] - 62.4)
    assert abs(ends[-1] - 62.4) < 0.2


def test_a_hand_on_the_pan_before_the_stream_says_nothing() -> None:
    pour, goal, known = Pour(), task(), nothing_yet(0.3)
    for n in range(20):
        pour = heard(pour, 0.1 * n, 40.0 if 8 <= n < 11 else 0.0, goal, known)
        assert due(pour, 0.1 * n, goal) is None


def test_a_push_while_the_stream_is_braked_is_not_taken_for_flow() -> None:
    hand = Hand(task(), nothing_yet(0.3), lambda pace: 2.0)
    hand.go(28.5)
    assert hand.pour.phase is Phase.POURING
    assert hand.pour.pace > 0
    calm = hand.pour
    pushed = heard(calm, hand.at_s + 0.1, hand.shown() + 1.5, hand.task, hand.learned)
    assert pushed.level is not None
    assert calm.level is not None
    assert pushed.level.flow_g_s > 2 * calm.level.flow_g_s
    assert due(pushed, hand.at_s + 0.1, hand.task) is None


def test_a_stop_is_moved_or_withdrawn_when_the_flow_changes() -> None:
    hand = Hand(task(), nothing_yet(0.3), lambda pace: 2.0)
    while hand.pour.stop_at_s is None:
        hand.go(0.01)
    set_for = hand.pour.stop_at_s
    assert set_for > hand.at_s - 0.05
    resting = hand.pour
    for n in range(1, 8):
        resting = heard(resting, hand.at_s + 0.1 * n, hand.shown(), hand.task, hand.learned)
    assert resting.stop_at_s is None


def test_a_stop_that_nobody_heard_is_said_again() -> None:
    hand = Hand(task(), nothing_yet(0.3), lambda pace: 1.5, late_s=99.0)
    hand.go(60.0)
    assert len(hand.stops) >= 3
    assert lesson(rested(hand.pour, hand.grams)).came_g is None


def test_what_little_lacks_is_poured_for_a_time_set_beforehand_and_what_it_brought_is_told() -> None:
    goal, known = task(), nothing_yet(0.3)
    hand = Hand(goal, known, obedient())
    hand.until_stopped()
    short = fell_short(hand.pour, hand.at_s, 61.4, goal, known)
    assert short.phase is Phase.DRIBBLING
    assert short.pace == 1.0
    assert short.stop_at_s is not None
    wait = short.stop_at_s - hand.at_s
    assert 0.8 <= wait <= 8.0
    stopped = due(short, short.stop_at_s, goal)
    assert stopped is not None
    again = fell_short(stopped, short.stop_at_s + 3.0, 61.5, goal, known)
    assert again.stop_at_s is not None
    assert [(d.seconds, d.came_g) for d in again.dribbles] == [pytest.approx((wait, 0.1))]
    assert again.stop_at_s - (short.stop_at_s + 3.0) > wait


def test_much_that_lacks_is_poured_like_the_first_time() -> None:
    goal, known = task(), nothing_yet(0.3)
    hand = Hand(goal, known, obedient())
    hand.until_stopped()
    assert fell_short(hand.pour, hand.at_s, 40.0, goal, known).phase is Phase.POURING


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.floats(0.01, 0.4), st.floats(-30, 120)), min_size=1, max_size=80),
    st.sampled_from([0.01, 0.1, 1.0]),
    st.floats(5, 2000),
)
def test_whatever_the_scale_shows_the_pace_is_a_pace_and_a_stop_is_never_long_ahead(
    readings: list[tuple[float, float]], d: float, target: float
) -> None:
    pour, goal, known, at = Pour(), task(target, d=d), nothing_yet(0.5), 0.0
    for wait, load in readings:
        at += wait
        pour = heard(pour, at, load, goal, known)
        assert 0 <= pour.pace <= 1
        assert pour.stop_at_s is None or at <= pour.stop_at_s <= at + 0.3 + 1e-9
        pour = due(pour, at, goal) or pour
        if pour.phase is Phase.STOPPED and load < goal.low_g:
            assert fell_short(pour, at, load, goal, known).pace == 1.0
