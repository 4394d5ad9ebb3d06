"""Smoothing: the median of three, and when silence ends a reading."""

from __future__ import annotations

from itertools import pairwise
from statistics import median

from hypothesis import given
from hypothesis import strategies as st

from station.climate.believing import JUMP_C
from station.climate.faults import NoSensor, SensorGone
from station.climate.readings import SILENT_AFTER, Readings
from station.testing import ScriptedClock

AT = ScriptedClock().now()
GONE = SensorGone("It does not answer.")


def after(*values: float) -> Readings:
    readings = Readings()
    for value in values:
        readings = readings.heard(value, AT, JUMP_C)
    return readings


def test_the_middle_of_the_last_three_counts() -> None:
    assert after(21.0).value == 21.0
    assert after(20.0, 21.0, 24.0, 21.2).value == 21.2


def test_a_jump_that_was_believed_starts_afresh() -> None:
    assert after(21.0, 21.1, 30.0).value == 30.0


def test_a_reading_counts_until_the_sensor_has_been_silent_too_long() -> None:
    readings = after(21.0)
    for _ in range(SILENT_AFTER - 1):
        readings = readings.missed(GONE)
    assert readings.value == 21.0
    assert readings.last is None
    assert readings.trouble.startswith("It does not answer.")
    assert readings.missed(GONE).value is None


def test_one_reading_ends_the_silence_and_its_trouble_and_old_ones_do_not_mix_in() -> None:
    readings = after(21.0, 21.0)
    for _ in range(SILENT_AFTER):
        readings = readings.missed(GONE)
    back = readings.heard(18.0, AT, JUMP_C)
    assert (back.value, back.trouble, back.silent) == (18.0, "", 0)


def test_a_sensor_that_never_was_there_is_told_from_one_that_went() -> None:
    none = NoSensor("There is none.")
    assert Readings().missed(none).never_there
    assert not after(21.0).missed(none).never_there
    assert not Readings().missed(GONE).never_there


@given(st.lists(st.floats(-20, 60), min_size=1, max_size=12))
def test_the_smoothed_value_is_the_median_of_what_came_since_the_last_jump(values: list[float]) -> None:
    jumps = [n for n, (one, next_) in enumerate(pairwise(values), 1) if abs(next_ - one) > JUMP_C]
    since = values[jumps[-1] if jumps else 0 :]
    assert after(*values).value == median(since[-3:])
