"""Quiet hours by the clock on the wall: over midnight, at the ends of summer time, and when nobody knows the time."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.core.moment import Moment
from station.core.quiet import DAY_MIN, QuietHours, quiet_at

BERLIN = ZoneInfo("Europe/Berlin")
NIGHT = QuietHours(22 * 60, 6 * 60 + 30)


def at(wall: datetime, trusted: bool = True) -> Moment:
    return Moment(100.0, "boot-1", wall.astimezone(UTC), trusted)


def here(text: str) -> Moment:
    return at(datetime.fromisoformat(text).replace(tzinfo=BERLIN))


@pytest.mark.parametrize(
    ("when", "quiet"),
    [
        ("2026-01-10 21:59", False),
        ("2026-01-10 22:00", True),
        ("2026-01-11 00:00", True),
        ("2026-01-11 06:29", True),
        ("2026-01-11 06:30", False),
    ],
)
def test_they_hold_over_midnight_from_the_first_minute_to_before_the_last(when: str, quiet: bool) -> None:
    assert quiet_at(NIGHT, here(when), BERLIN) is quiet


def test_by_day_they_hold_between_two_times_of_the_same_day() -> None:
    noon = QuietHours(12 * 60, 13 * 60)
    assert [quiet_at(noon, here(f"2026-01-10 {hour}:30"), BERLIN) for hour in (11, 12, 13)] == [False, True, False]


def test_without_a_trusted_clock_nothing_is_held() -> None:
    wall = datetime(2026, 1, 10, 23, 0, tzinfo=BERLIN)
    assert quiet_at(NIGHT, at(wall), BERLIN)
    assert not quiet_at(NIGHT, at(wall, trusted=False), BERLIN)


@pytest.mark.parametrize(("day", "hours"), [("2026-03-28", 7.5), ("2026-10-24", 9.5), ("2026-01-10", 8.5)])
def test_they_end_at_the_same_time_of_day_when_summer_time_begins_or_ends(day: str, hours: float) -> None:
    begin = datetime.fromisoformat(f"{day} 12:00").replace(tzinfo=BERLIN).astimezone(UTC)
    minutes = [quiet_at(NIGHT, at(begin + timedelta(minutes=m)), BERLIN) for m in range(24 * 60)]
    assert sum(minutes) == hours * 60
    assert quiet_at(NIGHT, here("2026-03-29 06:29"), BERLIN)
    assert not quiet_at(NIGHT, here("2026-03-29 06:30"), BERLIN)


@given(st.integers(0, DAY_MIN - 1), st.integers(0, DAY_MIN - 1))
def test_a_day_is_quiet_for_as_long_as_was_asked(begin: int, end: int) -> None:
    if begin == end:
        with pytest.raises(ValueError, match="two different minutes"):
            QuietHours(begin, end)
        return
    hours = QuietHours(begin, end)
    assert sum(map(hours.hold, range(DAY_MIN))) == (end - begin) % DAY_MIN
    assert hours.hold(begin)
    assert not hours.hold(end)
