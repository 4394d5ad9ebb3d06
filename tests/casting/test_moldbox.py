"""The box around a positive: balances, and what is refused."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.casting.moldbox import MOST_SPOUTS, Plan, Spouts, Walls
from station.errors import Refused

SIZES = st.tuples(*[st.floats(20, 500)] * 3)
WALLS = st.floats(1, 60)
PARTS = st.floats(0.01, 1.0)


@given(SIZES, PARTS, WALLS, st.integers(0, 4))
def test_box_is_silicone_and_positive_and_spouts(
    extents: tuple[float, float, float], part: float, wall: float, spouts: int
) -> None:
    positive = part * math.prod(extents) / 1000
    plan = Plan(extents, positive, Walls(wall, wall, wall), Spouts(spouts, 9.0))
    cylinders = spouts * math.pi * 4.5**2 * wall / 1000
    assert plan.silicone + positive + cylinders == pytest.approx(plan.box)
    assert plan.box == pytest.approx(math.prod(size + 2 * wall for size in extents) / 1000)


@given(SIZES, PARTS, WALLS, st.floats(0.1, 40))
def test_a_thicker_wall_takes_more_silicone(
    extents: tuple[float, float, float], part: float, wall: float, more: float
) -> None:
    positive = part * math.prod(extents) / 1000
    thin, thick = (Plan(extents, positive, Walls(w, w, w)) for w in (wall, wall + more))
    assert thick.silicone > thin.silicone


def test_overfill_is_added_to_what_is_mixed_only() -> None:
    plan = Plan((100.0, 50.0, 40.0), None, Walls(10.0, 10.0, 10.0), overfill_percent=3.0)
    assert plan.silicone == pytest.approx(504.0)
    assert plan.to_mix == pytest.approx(519.12)


def test_a_positive_larger_than_its_extents_is_refused() -> None:
    with pytest.raises(Refused, match=r"larger than the 200 cm³ around its own"):
        Plan((100.0, 50.0, 40.0), 201.0)


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


def test_more_spouts_than_stand_on_the_positive_are_refused() -> None:
    with pytest.raises(Refused, match="do not stand on this positive"):
        Plan((20.0, 20.0, 40.0), None, spouts=Spouts(4, 12.0))
    with pytest.raises(Refused, match="too many"):
        Spouts(MOST_SPOUTS + 1, 1.0)


def test_silicone_wets_the_floor_and_the_walls_up_to_the_level() -> None:
    # Inside 120 × 70 mm, filled 60 mm high: 84 cm² of floor and 2 × (72 + 42) cm² of walls.
    assert Plan((100.0, 50.0, 40.0), None, Walls(10.0, 10.0, 10.0)).wetted == pytest.approx(84 + 2 * (72 + 42))
