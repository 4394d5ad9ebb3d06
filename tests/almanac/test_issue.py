"""Dates that are given out: the sequence grows when and only when a date moves."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from station.almanac.issue import MOVED, Issues, issued, uid_of
from station.core.clocks import ClockKind
from station.core.cure_ends import CureEnd

NOW = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
END = CureEnd("boot-1 5.000000 12 DEMOLD", 12, ClockKind.DEMOLD, "grip", "foam", NOW, False, "")


def due_in(**span: float) -> CureEnd:
    return replace(END, due=NOW + timedelta(**span))


def test_a_date_is_the_next_whole_minute_so_that_nothing_is_ready_too_early() -> None:
    assert issued((), [due_in(hours=1)], NOW)[0].due == NOW + timedelta(hours=1)
    assert issued((), [due_in(hours=1, milliseconds=1)], NOW)[0].due == NOW + timedelta(hours=1, minutes=1)


def test_a_date_that_hardly_moves_stays_and_one_that_moves_has_a_higher_sequence() -> None:
    first = issued((), [due_in(hours=4)], NOW)
    assert first[0].sequence == 0
    assert issued(first, [due_in(hours=4, seconds=59)], NOW + timedelta(hours=1)) == first
    (moved,) = issued(first, [due_in(hours=5)], NOW + timedelta(hours=1))
    assert (moved.uid, moved.due, moved.sequence) == (first[0].uid, NOW + timedelta(hours=5), 1)
    assert moved.changed == NOW + timedelta(hours=1)


def test_a_date_that_has_come_moves_no_more() -> None:
    first = issued((), [due_in(hours=4)], NOW)
    over = replace(due_in(hours=3), over=True)
    assert issued(first, [over], NOW + timedelta(hours=6)) == first


def test_a_date_that_came_earlier_than_forecast_moves_to_when_it_came() -> None:
    first = issued((), [due_in(hours=4)], NOW)
    (came,) = issued(first, [replace(due_in(hours=3), over=True)], NOW + timedelta(hours=3))
    assert (came.due, came.sequence) == (NOW + timedelta(hours=3), 1)


def test_a_cure_that_stands_still_keeps_its_last_date_and_one_without_a_date_has_none() -> None:
    still = replace(END, due=None)
    first = issued((), [due_in(hours=4)], NOW)
    assert issued(first, [still], NOW) == first
    assert issued((), [still], NOW) == ()


def test_an_end_that_is_gone_is_forgotten() -> None:
    assert issued(issued((), [due_in(hours=4)], NOW), [], NOW) == ()


@given(st.lists(st.floats(0, 100 * 3600), min_size=1, max_size=40))
def test_in_any_course_a_date_is_right_to_a_minute_or_two_and_its_sequence_tells_every_move(
    forecasts: list[float],
) -> None:
    issues: Issues = ()
    moves = 0
    for seconds in forecasts:
        before = issues
        end = due_in(seconds=seconds)
        issues = issued(issues, [end], NOW)
        (one,) = issues
        assert end.due is not None
        assert one.uid == uid_of(end)
        assert abs(one.due - end.due) <= MOVED
        if before:
            moves += one.due != before[0].due
            assert (one.sequence > before[0].sequence) == (one != before[0])
            assert one.sequence >= moves
