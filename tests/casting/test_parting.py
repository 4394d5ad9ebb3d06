"""A mold in two pieces: both halves are the whole, and what cannot be is refused."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.casting.moldbox import Plan, Spouts, Walls
from station.casting.parting import halves
from station.errors import Refused

SIZES = st.tuples(*[st.floats(20, 500)] * 3)
WALLS = st.floats(1, 60)
PARTS = st.floats(0.01, 1.0)


@given(SIZES, PARTS, WALLS, st.floats(0.05, 0.95), st.integers(0, 3))
def test_two_halves_sum_up_to_the_whole(
    extents: tuple[float, float, float], part: float, wall: float, cut: float, spouts: int
) -> None:
    plan = Plan(extents, part * math.prod(extents) / 1000, Walls(wall, wall, wall), Spouts(spouts, 10.0))
    both = halves(plan, cut * extents[2])
    assert both.below + both.above == pytest.approx(plan.silicone)
    assert both.below > 0
    assert both.above > 0
    assert "an assumption" in both.how


def test_volume_below_the_parting_line_is_used_where_given() -> None:
    both = halves(Plan((100.0, 50.0, 40.0), 120.0, Walls(10.0, 10.0, 10.0)), 10.0, 45.0)
    assert both.below == pytest.approx(120 * 70 * 20 / 1000 - 45)
    assert both.above == pytest.approx(120 * 70 * 40 / 1000 - 75)
    assert both.how == "less 45 cm³ of the positive as given"


@pytest.mark.parametrize("parting", [0.0, 40.0, 55.0, -3.0, math.nan])
def test_a_parting_line_that_misses_the_positive_is_refused(parting: float) -> None:
    with pytest.raises(Refused, match="does not cut a positive 40 mm high"):
        halves(Plan((100.0, 50.0, 40.0), 100.0), parting)


@pytest.mark.parametrize("below", [-1.0, 51.0, 101.0])
def test_a_volume_that_cannot_lie_below_the_parting_line_is_refused(below: float) -> None:
    with pytest.raises(Refused, match="cannot lie below"):
        halves(Plan((100.0, 50.0, 40.0), 100.0), 10.0, below)


@given(SIZES, PARTS, st.floats(0.05, 0.9), st.floats(1.01, 1.1))
def test_a_higher_parting_line_leaves_more_below(
    extents: tuple[float, float, float], part: float, cut: float, higher: float
) -> None:
    plan = Plan(extents, part * math.prod(extents) / 1000)
    assert halves(plan, cut * higher * extents[2]).below > halves(plan, cut * extents[2]).below


def test_with_the_volume_unknown_nothing_is_taken_off() -> None:
    both = halves(Plan((100.0, 50.0, 40.0), None, Walls(10.0, 10.0, 10.0)), 10.0)
    assert both.below == pytest.approx(120 * 70 * 20 / 1000)
    assert both.above == pytest.approx(120 * 70 * 40 / 1000)
    assert "not known" in both.how


def test_a_part_of_a_volume_that_is_not_known_is_refused() -> None:
    with pytest.raises(Refused, match="not its whole volume"):
        halves(Plan((100.0, 50.0, 40.0), None), 10.0, 20.0)
