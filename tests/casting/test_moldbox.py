"""The box around a positive: balances, halves, and what is refused."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.casting.moldbox import Plan, Spouts, Walls, halves
from station.errors import Refused

SIZES = st.tuples(*[st.floats(20, 500)] * 3)
WALLS = st.floats(1, 60)
PARTS = st.floats(0.01, 1.0)


@given(SIZES, PARTS, WALLS, st.integers(0, 4))
def test_box_is_silicone_and_positive_and_spouts(
    extents: tuple[float, float, float], part: float, wall: float, spouts: int
) -> None:
    positive = part * math.prod(extents) / 1000
    plan = Plan(extents, positive, Walls(wall, wall, wall), Spouts(spouts, 12.0))
    cylinders = spouts * math.pi * 6.0**2 * wall / 1000
    assert plan.silicone + positive + cylinders == pytest.approx(plan.box)
    assert plan.box == pytest.approx(math.prod(size + 2 * wall for size in extents) / 1000)


@given(SIZES, PARTS, WALLS, st.floats(0.1, 40))
def test_a_thicker_wall_takes_more_silicone(
    extents: tuple[float, float, float], part: float, wall: float, more: float
) -> None:
    positive = part * math.prod(extents) / 1000
    thin, thick = (Plan(extents, positive, Walls(w, w, w)) for w in (wall, wall + more))
    assert thick.silicone > thin.silicone


@given(SIZES, PARTS, WALLS, st.floats(0.05, 0.95), st.integers(0, 3))
def test_two_halves_sum_up_to_the_whole(
    extents: tuple[float, float, float], part: float, wall: float, cut: float, spouts: int
) -> None:
    plan = Plan(extents, part * math.prod(extents) / 1000, Walls(wall, wall, wall), Spouts(spouts, 10.0))
    both = halves(plan, cut * extents[2])
    assert both.below + both.above == pytest.approx(plan.silicone)
    assert both.below > 0
    assert both.above > 0
    assert both.assumed


def test_volume_below_the_parting_line_is_used_where_given() -> None:
    both = halves(Plan((100.0, 50.0, 40.0), 120.0, Walls(10.0, 10.0, 10.0)), 10.0, 45.0)
    assert both.below == pytest.approx(120 * 70 * 20 / 1000 - 45)
    assert both.above == pytest.approx(120 * 70 * 40 / 1000 - 75)
    assert not both.assumed


def test_overfill_is_added_to_what_is_mixed_only() -> None:
    plan = Plan((100.0, 50.0, 40.0), None, Walls(10.0, 10.0, 10.0), overfill_percent=3.0)
    assert plan.silicone == pytest.approx(504.0)
    assert plan.to_mix == pytest.approx(519.12)


def test_a_positive_larger_than_its_extents_is_refused() -> None:
    with pytest.raises(Refused, match=r"larger than the 200 cm³ around its own"):
        Plan((100.0, 50.0, 40.0), 201.0)


@pytest.mark.parametrize("parting", [0.0, 40.0, 55.0, -3.0, math.nan])
def test_a_parting_line_that_misses_the_positive_is_refused(parting: float) -> None:
    with pytest.raises(Refused, match="does not cut a positive 40 mm high"):
        halves(Plan((100.0, 50.0, 40.0), 100.0), parting)


@pytest.mark.parametrize("below", [-1.0, 51.0, 101.0])
def test_a_volume_that_cannot_lie_below_the_parting_line_is_refused(below: float) -> None:
    with pytest.raises(Refused, match="cannot lie below"):
        halves(Plan((100.0, 50.0, 40.0), 100.0), 10.0, below)


@pytest.mark.parametrize("value", [-1.0, math.nan, math.inf])
def test_walls_and_margins_that_are_none_are_refused(value: float) -> None:
    with pytest.raises(Refused, match="below is none"):
        Walls(below=value)
    with pytest.raises(Refused, match="no margin"):
        Plan((10.0, 10.0, 10.0), None, overfill_percent=value)
    with pytest.raises(Refused, match="spout"):
        Spouts(1, value)


def test_a_box_that_leaves_no_room_is_refused() -> None:
    plan = Plan((100.0, 50.0, 40.0), 200.0, Walls(0.0, 0.0, 0.0))
    with pytest.raises(Refused, match="No room"):
        _ = plan.silicone


def test_a_spout_wider_than_the_positive_is_refused() -> None:
    with pytest.raises(Refused, match="wider than the positive"):
        Plan((100.0, 10.0, 40.0), None, spouts=Spouts(1, 12.0))
