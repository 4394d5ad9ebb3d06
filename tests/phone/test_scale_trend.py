"""The drawings of the scale's figures: more grams lie higher, later lies further right, and zero is on the axis."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.phone.scale_history import history
from station.phone.scale_trend import HEIGHT, WIDTH, grams_text, trend
from tests.phone.small_desk import CHECKS

DAY = date(2026, 3, 2)
GRAMS = st.floats(-5000, 5000, allow_nan=False).filter(lambda g: g == 0 or abs(g) > 1e-4)
POINTS = st.lists(st.tuples(st.integers(0, 4000), GRAMS), min_size=1, max_size=12).map(
    lambda many: sorted(((DAY + timedelta(days=days), grams) for days, grams in many), key=lambda p: p[0])
)


@given(POINTS)
def test_more_grams_never_lie_lower_and_a_later_day_never_lies_further_left(points):
    drawn = trend("Error", points, signed=True)
    assert drawn is not None
    assert len(drawn.dots) == len(points)
    by_grams = [y for _, (_, y) in sorted(zip(points, drawn.dots, strict=True), key=lambda pair: pair[0][1])]
    assert by_grams == sorted(by_grams, reverse=True)
    across = [x for x, _ in drawn.dots]
    assert across == sorted(across)
    assert all(0 < x < WIDTH and 0 < y < HEIGHT for x, y in drawn.dots)


@given(POINTS)
def test_the_axis_has_a_few_different_levels_one_of_them_zero_and_holds_every_dot(points):
    drawn = trend("Error", points, signed=True)
    assert drawn is not None
    assert 2 <= len(drawn.ticks) <= 7
    assert len({tick.text for tick in drawn.ticks}) == len(drawn.ticks)
    assert [tick.text.strip("0. g") for tick in drawn.ticks if tick.zero] == [""]
    heights = [tick.y for tick in drawn.ticks]
    assert all(min(heights) <= y <= max(heights) for _, y in drawn.dots)


def test_the_levels_are_round_and_in_grams():
    drawn = trend("Error", [(DAY, -0.08), (DAY + timedelta(days=300), 0.12)], signed=True)
    assert drawn is not None
    assert [tick.text for tick in drawn.ticks] == ["−0.10 g", "−0.05 g", "0.00 g", "+0.05 g", "+0.10 g", "+0.15 g"]
    assert (drawn.first, drawn.last) == ("2026-03-02", "2026-12-27")


def test_what_was_not_tested_leaves_a_gap_in_the_line():
    days = [DAY + timedelta(days=n) for n in range(6)]
    drawn = trend("Error", list(zip(days, (0.1, 0.2, None, 0.3, 0.4, None), strict=True)))
    assert drawn is not None
    assert len(drawn.dots) == 4
    assert [len(line.split()) for line in drawn.lines] == [2, 2]


def test_a_single_check_is_a_dot_with_one_date_and_no_figure_at_all_is_no_drawing():
    alone = trend("Repeatability", [(DAY, 0.0)])
    assert alone is not None
    assert (alone.lines, alone.first, alone.last) == ((), "2026-03-02", "")
    assert alone.spoken == "Repeatability at 1 check, the oldest first: 2026-03-02 0 g."
    assert trend("Error", [(DAY, None)]) is None


@pytest.mark.parametrize(
    ("grams", "plain", "signed"),
    [
        (0.0, "0 g", "0 g"),
        (0.0412, "0.041 g", "+0.041 g"),
        (-0.4, "−0.40 g", "−0.40 g"),
        (12.34, "12 g", "+12 g"),
        (1234.0, "1234 g", "+1234 g"),
        (-1e-9, "0.000000 g", "0.000000 g"),
    ],
)
def test_grams_have_two_figures_that_count_and_a_real_minus(grams, plain, signed):
    assert grams_text(grams) == plain
    assert grams_text(grams, signed=True) == signed


def test_the_drawings_hold_only_the_scale_that_was_checked_last():
    other = replace(CHECKS[1], scale="/dev/ttyUSB9", error_g=7.0)
    seen = history((CHECKS[0], other, CHECKS[2]), DAY)
    assert seen is not None
    assert [len(drawn.dots) for drawn in seen.trends] == [2, 1]
    assert [row.scale for row in seen.rows] == ["/dev/ttyUSB1", "/dev/ttyUSB9", "/dev/ttyUSB1"]


@pytest.mark.parametrize(
    ("today", "overdue", "words"),
    [
        (date(2027, 2, 19), False, "The next check is due by 2027-02-20."),
        (date(2027, 2, 20), False, "The next check is due by 2027-02-20, today."),
        (date(2027, 2, 21), True, "Overdue by 1 day: the next check was due by 2027-02-20."),
        (date(2027, 3, 2), True, "Overdue by 10 days: the next check was due by 2027-02-20."),
        (None, False, "The station's clock is not set"),
    ],
)
def test_a_check_is_overdue_from_the_day_after_it_was_due(today, overdue, words):
    seen = history(CHECKS, today)
    assert seen is not None
    assert seen.overdue is overdue
    assert words in seen.due
