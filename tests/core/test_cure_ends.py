"""Cure ends: which casts have them, when they come, and what moves them."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from station.core.clocks import AlarmState, ClockKind
from station.core.cure_ends import cure_ends
from station.core.standing import Ending
from station.testing import ScriptedClock
from tests.almanac.casts import cures, standing

CLOCK = ScriptedClock()
NOW = CLOCK.now()


def test_a_cast_that_cures_has_two_ends_at_the_times_its_clocks_fall_due() -> None:
    demold, full = cure_ends(standing(cures(3, NOW)), NOW)
    assert (demold.kind, full.kind) == (ClockKind.DEMOLD, ClockKind.FULL_CURE)
    assert (demold.due, full.due) == (NOW.wall + timedelta(hours=4), NOW.wall + timedelta(hours=24))
    assert not demold.over


def test_what_stands_at_the_bench_was_given_up_or_was_never_poured_has_none() -> None:
    cast = cures(3, NOW)
    for other in (replace(cast, position=0), replace(cast, ending=Ending.LOST), replace(cast, poured=None)):
        assert cure_ends(standing(other), NOW) == ()


def test_an_end_that_has_come_is_over_and_one_that_was_stopped_is_none() -> None:
    cast = cures(3, NOW)
    later = ScriptedClock(NOW.wall + timedelta(hours=5), NOW.boot_s + 5 * 3600).now()
    assert [end.over for end in cure_ends(standing(cast), later)] == [True, False]
    stopped = replace(cast, clocks=tuple(replace(clock, state=AlarmState.STOPPED) for clock in cast.clocks))
    assert cure_ends(standing(stopped), later) == ()


def test_cold_moves_the_ends_back_and_below_the_sheets_limit_there_is_no_date() -> None:
    cast = cures(3, NOW)
    cold = replace(standing(cast), temperature_c=15.0)
    (demold, _) = cure_ends(cold, NOW)
    assert demold.due is not None
    assert demold.due > NOW.wall + timedelta(hours=4)
    assert "A forecast" in demold.words
    times = replace(cast.plan.material.times, coldest_c=18.0)
    limited = replace(cast, plan=replace(cast.plan, material=replace(cast.plan.material, times=times)))
    assert [end.due for end in cure_ends(replace(standing(limited), temperature_c=15.0), NOW)] == [None, None]


def test_a_power_cut_of_unknown_length_is_told() -> None:
    cast = cures(3, NOW)
    cast = replace(cast, clocks=tuple(replace(clock, unknown_gap=True) for clock in cast.clocks))
    assert all("it may be ready sooner" in end.words for end in cure_ends(standing(cast), NOW))
