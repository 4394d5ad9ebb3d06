"""Times in words are the times."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.core.spans import about, between, span

WORTH = {"s": 1.0, "min": 60.0, "h": 3600.0, "d": 86400.0}


def seconds(text: str) -> float:
    number, unit = text.split(" ")
    assert re.fullmatch(r"[\d.]+", number)
    return float(number) * WORTH[unit]


@given(st.floats(0.01, 1e7))
def test_about_is_within_three_digits(time):
    assert seconds(about(time)) == pytest.approx(time, rel=0.0051)


@given(st.integers(1, 10_000_000))
def test_a_span_is_exact_for_whole_seconds_that_people_write(time):
    assert seconds(span(time)) == pytest.approx(time, rel=1e-5)


def test_two_times_that_read_alike_are_one():
    assert between(1200, 1200.4) == "20 min"
    assert between(1200, 1500) == "20 min to 25 min"
    assert (about(33.41), about(119), about(7200)) == ("33.4 s", "119 s", "2 h")
