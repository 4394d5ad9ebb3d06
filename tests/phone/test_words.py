"""Times and masses as people read them."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.core.mass import Mass
from station.phone.words import age_text, clock_text, mass_text, past_text, span_text


@pytest.mark.parametrize(
    ("seconds", "text"),
    [
        (0.0, "0:00"),
        (-3.0, "0:00"),
        (0.2, "0:01"),
        (59.01, "1:00"),
        (171.2, "2:52"),
        (3599.0, "59:59"),
        (3600.0, "1 h 00"),
        (5401.0, "1 h 31"),
        (190000.0, "2 d 5 h"),
    ],
)
def test_a_time_left_is_rounded_up(seconds, text):
    assert span_text(seconds) == text


@given(st.floats(min_value=0.001, max_value=1e7))
def test_zero_is_only_shown_when_nothing_is_left(seconds):
    assert span_text(seconds) != "0:00"


@pytest.mark.parametrize(
    ("seconds", "text"), [(0.9, "0:00"), (125.9, "2:05"), (7300.0, "2 h 01"), (200000.0, "2 d 7 h")]
)
def test_a_time_gone_by_is_rounded_down(seconds, text):
    assert past_text(seconds) == text


def test_an_age_is_told_in_seconds_first():
    assert (age_text(None), age_text(2.9), age_text(75.0)) == ("", "2 s old", "1:15 old")


def test_the_day_is_named_only_when_it_is_another_day():
    now = datetime(2026, 3, 2, 9, 14, tzinfo=UTC)
    assert clock_text(now + timedelta(hours=2), now, UTC) == "11:14"
    assert clock_text(now + timedelta(days=1), now, UTC) == "Tue 09:14"
    assert clock_text(now + timedelta(days=30), now, UTC) == "2026-04-01 09:14"


@given(st.integers(-2_000_000, 2_000_000))
def test_a_mass_reads_back_as_the_nearest_step_and_is_never_minus_zero(mg):
    text = mass_text(Mass(mg), Mass(100))
    value = Decimal(text.removesuffix(" g").replace("−", "-"))
    assert abs(value * 1000 - mg) <= 50
    assert not (value == 0 and text.startswith("−"))
