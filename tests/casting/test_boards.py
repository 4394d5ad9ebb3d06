"""Boards enclose the box exactly; inches are to the nearest sixteenth."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.casting.boards import INCH_MM, area_cm2, cutting_list, inches, round_box
from station.casting.moldbox import Plan
from station.errors import Refused

SIZES = st.tuples(*[st.floats(10, 800)] * 3)


@given(SIZES, st.floats(2, 40), st.floats(0, 30))
def test_the_boards_enclose_the_inner_box(inner, thickness, rim):
    long, short, floor = cutting_list(inner, thickness, rim=rim)
    assert long.long - 2 * thickness == pytest.approx(inner[0])
    assert short.long == pytest.approx(inner[1])
    assert long.wide == short.wide == pytest.approx(inner[2] + rim)
    assert (floor.long, floor.wide) == pytest.approx((inner[0] + 2 * thickness, inner[1] + 2 * thickness))
    whole = (floor.long * floor.wide) * (inner[2] + rim)
    walls = (2 * long.long * thickness + 2 * short.long * thickness) * (inner[2] + rim)
    assert whole - walls == pytest.approx(inner[0] * inner[1] * (inner[2] + rim))
    assert area_cm2((long, short, floor)) > 0


@given(st.floats(2, 2000))
def test_inches_are_within_half_a_sixteenth(mm):
    text = inches(mm).removesuffix(" in")
    whole, _, part = text.rpartition(" ") if "/" in text else (text, "", "")
    value = float(whole or 0) + (int(part.split("/")[0]) / int(part.split("/")[1]) if part else 0)
    assert abs(value * INCH_MM - mm) <= INCH_MM / 32 + 1e-9


def test_a_half_inch_is_written_as_one():
    assert [inches(mm) for mm in (12.7, 25.4, 38.1, 293.4)] == ["1/2 in", "1 in", "1 1/2 in", "11 9/16 in"]


def test_a_round_box_takes_the_diagonal():
    found = round_box((30, 40, 20), 10, 5, 5)
    assert found.diameter == pytest.approx(70)
    assert found.volume == pytest.approx(math.pi / 4 * 70**2 * 30 / 1000)


@pytest.mark.parametrize(
    ("inner", "thickness", "rim", "says"),
    [
        ((10, 10, 10), 0, 0, "thickness above zero"),
        ((10, 10, 10), math.nan, 0, "thickness above zero"),
        ((10, 10, 10), 18, -1, "end below the silicone"),
        ((10, 0, 10), 18, 0, "no room inside"),
    ],
)
def test_boards_that_make_no_box_are_refused(inner, thickness, rim, says):
    with pytest.raises(Refused, match=says):
        cutting_list(inner, thickness, rim=rim)


def test_the_silicone_around_a_cylinder_is_the_box_less_its_mesh():
    # An independent hand: trimesh's volume of a finely faceted cylinder, 60 mm across and 40 mm high.
    import trimesh

    mesh = trimesh.creation.cylinder(radius=30, height=40, sections=512)
    plan = Plan((60.0, 60.0, 40.0), math.pi * 30**2 * 40 / 1000)
    box = trimesh.creation.box(extents=plan.inner)
    assert plan.silicone == pytest.approx((box.volume - mesh.volume) / 1000, rel=1e-4)
