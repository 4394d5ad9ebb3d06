"""Containers: what is left, what is wrong with them, which goes next."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.casting.stock import Container, known_to_g, left_g, next_to_use, warnings
from station.errors import Refused

TODAY = date(2026, 3, 2)
DAY = timedelta(days=1)


def can(number: str, **more) -> Container:
    return Container("A", number, **more)


def test_what_is_left_is_gross_less_empty():
    assert left_g(812.4, 240) == pytest.approx(572.4)
    with pytest.raises(Refused, match="240 g cannot weigh 200 g"):
        left_g(200, 240)


@given(st.floats(0, 2000), st.floats(0, 500), st.sampled_from([0.01, 0.1, 0.5, 1.0]))
def test_two_rounded_readings_are_off_by_one_step_at_most(content, empty, step):
    def reading(grams):
        return round(grams / step) * step

    left = reading(empty + content) - reading(empty)
    assert abs(left - content) <= known_to_g(step) * (1 + 1e-6)


def test_a_scale_without_a_step_is_refused():
    for step in (0.0, -0.1, float("nan"), float("inf")):
        with pytest.raises(Refused, match="does not read in steps"):
            known_to_g(step)


def test_an_opened_can_is_good_until_the_earlier_of_both():
    both = can("1", opened=TODAY, opened_life_d=90, best_before=TODAY + 30 * DAY)
    assert both.good_until == TODAY + 30 * DAY
    assert can("2", opened=TODAY, opened_life_d=10, best_before=TODAY + 30 * DAY).good_until == TODAY + 10 * DAY
    assert can("3").good_until is None


@pytest.mark.parametrize(
    ("container", "need", "says"),
    [
        (can("1", best_before=TODAY - DAY), None, "past its date since 2026-03-01"),
        (can("1", opened=TODAY - 40 * DAY, opened_life_d=30), None, "past what it keeps once opened"),
        (can("1", best_before=TODAY + 5 * DAY), None, "use it first"),
        (can("1", isocyanate=True, opened=TODAY - 31 * DAY), None, "bulging"),
        (can("1", left_g=100), 120, "100.0 g are left and 120.0 g are needed"),
        (can("1", left_g=20), None, "nearly empty"),
        (can("1"), 10, "nobody knows"),
    ],
)
def test_what_is_wrong_is_a_sentence(container, need, says):
    assert any(says in said for said in warnings(container, TODAY, need))


def test_a_good_can_says_nothing_and_dates_wait_for_a_trusted_clock():
    assert warnings(can("1", left_g=500, opened=TODAY, best_before=TODAY + 300 * DAY), TODAY, 100) == ()
    assert warnings(can("1", best_before=TODAY - DAY, left_g=500), None) == ()


def test_the_one_that_ends_first_goes_next_and_the_opened_before_the_sealed():
    soon, late = can("soon", best_before=TODAY + 10 * DAY), can("late", best_before=TODAY + 90 * DAY)
    past = can("past", best_before=TODAY - DAY)
    assert next_to_use([late, soon, past], TODAY) == soon
    sealed, opened = can("s", best_before=TODAY + 9 * DAY), can("o", best_before=TODAY + 9 * DAY, opened=TODAY)
    assert next_to_use([sealed, opened], TODAY) == opened
    assert next_to_use([past], TODAY) == past
    assert next_to_use([], TODAY) is None


def test_one_that_holds_enough_is_taken_before_two_are_mixed():
    little, enough = can("l", left_g=50, best_before=TODAY + DAY), can("e", left_g=500, best_before=TODAY + 90 * DAY)
    assert next_to_use([little, enough], TODAY, need_g=200) == enough
    assert next_to_use([little, enough], TODAY, need_g=40) == little


def test_one_past_its_date_waits_for_every_good_one_and_an_empty_one_for_all():
    past = can("past", left_g=900, best_before=TODAY - DAY)
    good = can("good", left_g=50, best_before=TODAY + 9 * DAY)
    empty = can("empty", left_g=0, best_before=TODAY + DAY)
    assert next_to_use([past, good], TODAY, need_g=200) == good
    assert any("are needed" in said for said in warnings(good, TODAY, 200))
    assert next_to_use([empty, good], TODAY) == good
    assert next_to_use([empty, past], TODAY) == past


def test_a_life_beyond_the_calendar_has_no_other_end():
    assert can("1", opened=date(9999, 1, 1), opened_life_d=999_999).good_until == date.max
    with pytest.raises(Refused):
        left_g(float("nan"), 240)


CANS = st.lists(
    st.builds(
        can,
        st.text("0123456789", min_size=1, max_size=4),
        left_g=st.none() | st.floats(0, 5000),
        opened=st.none() | st.dates(date(2025, 1, 1), date(2026, 3, 2)),
        best_before=st.none() | st.dates(date(2025, 1, 1), date(2028, 1, 1)),
    ),
    min_size=1,
    max_size=6,
)


@given(CANS, st.floats(1, 4000))
def test_the_choice_is_one_of_them_and_does_not_hang_on_their_order(cans, need):
    chosen = next_to_use(cans, TODAY, need)
    assert chosen in cans
    again = next_to_use(cans[::-1], TODAY, need)
    assert (again.good_until, again.left_g, again.number) == (chosen.good_until, chosen.left_g, chosen.number)
