"""Pedal: what a bouncing contact means, in simulated time, and once on the reader's own thread."""

from __future__ import annotations

import queue
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.clock import SystemClock
from station.core.messages import Press
from station.signals.pedal import (
    BOUNCE_S,
    HELD,
    HELD_S,
    Contact,
    PressReader,
    Times,
    Told,
    next_look_s,
    on_edge,
    on_look,
)
from tests.signals.listening import DEADLINE_S

LONG_S = 0.8
Edge = tuple[float, bool]


PEDAL, BUTTON = Times(LONG_S), Times(LONG_S, HELD_S)


def presses(edges: list[Edge], lag_s: float = 0.0, times: Times = PEDAL) -> list[tuple[float, Told]]:
    """When each press was told. `lag_s`: so late is the level looked at when it should be."""
    contact, level, now_s = Contact(), False, 0.0
    told: list[tuple[float, Told]] = []
    ahead = list(edges)
    while True:
        look_s = next_look_s(contact, now_s, times)
        if look_s is None and not ahead:
            return told
        if ahead and (look_s is None or ahead[0][0] <= now_s + look_s + lag_s):
            now_s, level = ahead.pop(0)
            contact, new = on_edge(contact, level, now_s, times)
        else:
            assert look_s is not None
            now_s += look_s + lag_s
            contact, new = on_look(contact, level, now_s, times)
        told += [(now_s, each) for each in new]


def test_a_short_press_is_told_when_the_foot_leaves() -> None:
    assert presses([(1.0, True), (1.3, False)]) == [(1.3, Press.SHORT)]


def test_a_long_press_is_told_when_its_time_is_reached_and_its_release_is_no_short_press() -> None:
    [(at_s, press)] = presses([(1.0, True), (4.0, False)])
    assert press is Press.LONG
    assert at_s == pytest.approx(1.0 + LONG_S, abs=0.01)


def test_a_foot_that_leaves_just_in_time_pressed_short() -> None:
    assert [press for _, press in presses([(1.0, True), (1.0 + LONG_S - 0.01, False)])] == [Press.SHORT]


def test_a_machine_that_looks_late_still_tells_a_long_press_from_a_short_one() -> None:
    assert [press for _, press in presses([(1.0, True), (1.0 + LONG_S + 0.02, False)], lag_s=0.1)] == [Press.LONG]


def test_a_tap_shorter_than_the_bouncing_is_one_short_press() -> None:
    assert [press for _, press in presses([(1.0, True), (1.01, False)])] == [Press.SHORT]


def test_a_pedal_that_is_held_down_when_the_station_starts_presses_nothing_when_it_is_let_go() -> None:
    assert presses([(3.0, False)]) == []


def test_a_pedal_that_stays_down_presses_once() -> None:
    assert [press for _, press in presses([(1.0, True)])] == [Press.LONG]


def test_a_button_held_for_ten_seconds_is_told_then_and_is_no_press_before_or_after() -> None:
    ((held_s, held),) = presses([(1.0, True), (14.0, False)], times=BUTTON)
    assert held is HELD
    assert held_s == pytest.approx(1.0 + HELD_S, abs=0.01)


def test_a_button_pressed_long_says_so_when_it_is_let_go_since_it_might_have_been_held() -> None:
    ((long_s, long),) = presses([(1.0, True), (1.0 + LONG_S + 0.5, False)], times=BUTTON)
    assert long is Press.LONG
    assert long_s == pytest.approx(1.0 + LONG_S + 0.5, abs=0.01)
    assert [told for _, told in presses([(1.0, True), (1.0 + LONG_S - 0.01, False)], times=BUTTON)] == [Press.SHORT]


@pytest.mark.parametrize("lag_s", [0.0, 0.3, 30.0])
def test_a_button_that_is_let_go_a_little_early_was_only_a_long_press_however_late_one_looks(lag_s: float) -> None:
    assert [told for _, told in presses([(1.0, True), (1.0 + HELD_S - 0.01, False)], lag_s, BUTTON)] == [Press.LONG]


def test_a_machine_that_slept_through_it_all_still_tells_a_hold_by_its_release() -> None:
    assert [told for _, told in presses([(1.0, True), (12.0, False)], 60.0, BUTTON)] == [HELD]


def test_a_pedal_under_a_box_for_an_hour_is_one_long_press_and_locks_nobody_out() -> None:
    assert [told for _, told in presses([(1.0, True), (3601.0, False)])] == [Press.LONG]


def test_a_press_after_a_hold_is_a_press_again() -> None:
    edges = [(1.0, True), (12.0, False), (13.0, True), (13.2, False)]
    assert [told for _, told in presses(edges, times=BUTTON)] == [HELD, Press.SHORT]


bounces = st.lists(st.floats(0.0005, 0.045), max_size=8).map(lambda offsets: sorted(offsets)[: len(offsets) // 2 * 2])
feet = st.lists(
    st.tuples(
        st.one_of(st.floats(0.06, LONG_S - 0.06), st.floats(LONG_S + 0.06, 3.0)), st.floats(0.12, 2.0), bounces, bounces
    ),
    max_size=8,
)


def contact_edge(at_s: float, down: bool, offsets: list[float]) -> list[Edge]:
    """The edge and an even number of bounces after it, so that it ends as it began."""
    return [(at_s, down), *((at_s + offset, down is (i % 2 == 1)) for i, offset in enumerate(offsets))]


@settings(max_examples=300, deadline=None)
@given(foot=feet)
def test_bouncing_makes_neither_two_presses_of_one_nor_loses_any(
    foot: list[tuple[float, float, list[float], list[float]]],
) -> None:
    edges, at_s, meant = [], 1.0, []
    for down_s, up_s, closing, opening in foot:
        edges += contact_edge(at_s, True, closing) + contact_edge(at_s + down_s, False, opening)
        meant.append(Press.LONG if down_s > LONG_S else Press.SHORT)
        at_s += down_s + up_s
    assert [press for _, press in presses(edges)] == meant


@settings(max_examples=300, deadline=None)
@given(gaps=st.lists(st.floats(0.0001, 0.3), max_size=60))
def test_no_noise_makes_two_presses_within_two_times_of_bouncing(gaps: list[float]) -> None:
    edges, at_s = [], 1.0
    for i, gap_s in enumerate(gaps):
        at_s += gap_s
        edges.append((at_s, i % 2 == 0))
    told = [at for at, press in presses(edges) if press is Press.SHORT]
    assert all(later - earlier >= 2 * BOUNCE_S - 1e-6 for earlier, later in pairwise(told))


def test_the_reader_tells_presses_in_order_from_its_own_thread() -> None:
    told: queue.SimpleQueue[Told] = queue.SimpleQueue()
    level = [False]

    def move(down: bool) -> None:
        level[0] = down
        reader.edge(down)

    with PressReader(SystemClock(), Times(0.15), lambda: level[0], told.put) as reader:
        move(True)
        move(False)
        assert told.get(timeout=DEADLINE_S) is Press.SHORT
        move(True)
        assert told.get(timeout=DEADLINE_S) is Press.LONG
        move(False)
    assert told.empty()


def test_a_contact_whose_level_cannot_be_read_goes_on_by_its_edges_and_is_read_again_when_it_can_be(
    caplog: pytest.LogCaptureFixture,
) -> None:
    told: queue.SimpleQueue[Told] = queue.SimpleQueue()
    level: list[bool | None] = [None]

    def read() -> bool:
        if level[0] is None:
            raise OSError("pin is gone")
        return level[0]

    with PressReader(SystemClock(), Times(0.15), read, told.put) as reader:
        reader.edge(True)
        assert told.get(timeout=DEADLINE_S) is Press.LONG
        level[0] = False
        reader.edge(False)
        # Still within the bouncing: only a look at the level can find this one.
        level[0] = True
        reader.edge(True)
        assert told.get(timeout=DEADLINE_S) is Press.LONG
    assert "pin is gone" in caplog.text
