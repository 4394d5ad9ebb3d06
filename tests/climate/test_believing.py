"""Which reading is believed: jumps and power-on values are asked again."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.climate.believing import AGREES_C, JUMP_C, believed
from station.climate.faults import PowerOnValue, SensorFault, SensorGone, Unsettled


class Looks:
    """A sensor that gives these answers one after the other; a fault is raised."""

    def __init__(self, *answers: float | SensorFault) -> None:
        self.left = list(answers)

    def __call__(self) -> float:
        answer = self.left.pop(0)
        if isinstance(answer, SensorFault):
            raise answer
        return answer


FAILED = PowerOnValue("It shows 85 °C.")


def test_a_reading_near_the_last_is_believed_at_one_look() -> None:
    look = Looks(25.9)
    assert believed(look, 21.0) == 25.9
    assert look.left == []


def test_the_first_reading_of_all_is_believed_at_one_look() -> None:
    assert believed(Looks(33.0), None) == 33.0


def test_a_jump_that_a_second_look_repeats_is_believed() -> None:
    assert believed(Looks(31.0, 31.4), 21.0) == 31.4


def test_a_jump_that_a_second_look_does_not_repeat_was_a_slip() -> None:
    assert believed(Looks(40.0, 21.2), 21.0) == 21.2


def test_two_looks_far_apart_are_not_believed() -> None:
    with pytest.raises(Unsettled, match=r"jumped from 21\.0 °C to 31\.0 °C and then to 44\.0 °C"):
        believed(Looks(31.0, 44.0), 21.0)


def test_after_a_failed_supply_the_next_look_is_held_against_the_last_reading() -> None:
    assert believed(Looks(FAILED, 21.3), 21.0) == 21.3
    assert believed(Looks(FAILED, 40.0, 40.2), 21.0) == 40.2
    with pytest.raises(Unsettled):
        believed(Looks(FAILED, 40.0, 55.0), 21.0)


def test_after_a_failed_supply_with_nothing_before_two_more_looks_must_go_together() -> None:
    assert believed(Looks(FAILED, 21.3, 21.4), None) == 21.4
    with pytest.raises(Unsettled):
        believed(Looks(FAILED, 21.3, 40.0, 50.0), None)


def test_a_supply_that_fails_twice_is_told() -> None:
    with pytest.raises(PowerOnValue):
        believed(Looks(FAILED, FAILED), 21.0)


def test_a_sensor_that_goes_between_two_looks_is_told() -> None:
    with pytest.raises(SensorGone):
        believed(Looks(40.0, SensorGone("Gone.")), 21.0)


WARMTH = st.floats(-20, 60)


@given(st.lists(WARMTH | st.just(FAILED), min_size=4, max_size=4), st.none() | WARMTH)
def test_what_is_believed_was_near_the_last_reading_or_seen_twice(
    answers: list[float | SensorFault], last: float | None
) -> None:
    look = Looks(*answers)
    try:
        found = believed(look, last)
    except SensorFault:
        return
    seen = [answer for answer in answers[: 4 - len(look.left)] if not isinstance(answer, SensorFault)]
    assert found == seen[-1]
    held_against = [*seen[:-1], *([] if last is None else [last])]
    if held_against:
        assert any(abs(found - other) <= JUMP_C for other in held_against)
    else:
        assert len(answers) - len(look.left) == 1  # the very first look, with nothing wrong
    assert AGREES_C < JUMP_C
