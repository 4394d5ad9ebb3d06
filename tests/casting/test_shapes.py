"""Plain shapes: laws that their formulas must obey, and a triangle mesh as an independent hand."""

import math

import pytest
import trimesh
from hypothesis import given
from hypothesis import strategies as st

from station.casting.shapes import Box, Frustum, Ring, TaperedBox, cylinder, together_cm3
from station.errors import Refused

sizes = st.floats(0.5, 900)


@given(sizes, sizes, sizes, sizes, sizes)
def test_a_tapered_box_is_what_its_mesh_is(a, b, c, d, h):
    corners = [(x * a / 2, y * b / 2, 0) for x in (-1, 1) for y in (-1, 1)]
    corners += [(x * c / 2, y * d / 2, h) for x in (-1, 1) for y in (-1, 1)]
    mesh = trimesh.Trimesh(corners).convex_hull
    shape = TaperedBox(a, b, c, d, h)
    assert shape.volume_cm3 * 1000 == pytest.approx(mesh.volume, rel=1e-6)
    assert shape.surface_cm2 * 100 == pytest.approx(mesh.area, rel=1e-6)


@given(sizes, sizes, sizes)
def test_a_tapered_box_without_taper_is_a_box(a, b, h):
    box, straight = Box(a, b, h), TaperedBox(a, b, a, b, h)
    assert straight.volume_cm3 == pytest.approx(box.volume_cm3)
    assert straight.surface_cm2 == pytest.approx(box.surface_cm2)


@given(sizes, sizes, sizes, st.floats(0.05, 0.95))
def test_a_cup_cut_across_is_its_two_parts(bottom, top, height, share):
    middle = bottom + (top - bottom) * share
    parts = (Frustum(bottom, middle, height * share), Frustum(middle, top, height * (1 - share)))
    assert together_cm3(parts) == pytest.approx(Frustum(bottom, top, height).volume_cm3, rel=1e-9)


@given(sizes, sizes)
def test_a_cone_is_a_third_of_its_cylinder(diameter, height):
    assert Frustum(diameter, 0, height).volume_cm3 == pytest.approx(cylinder(diameter, height).volume_cm3 / 3)
    assert Frustum(0, diameter, height).volume_cm3 == pytest.approx(cylinder(diameter, height).volume_cm3 / 3)


def test_a_finely_divided_mesh_nears_the_cup_and_the_ring():
    cup = trimesh.creation.cone(radius=20, height=60, sections=2000)
    assert Frustum(40, 0, 60).volume_cm3 * 1000 == pytest.approx(cup.volume, rel=1e-4)
    assert Frustum(40, 0, 60).surface_cm2 * 100 == pytest.approx(cup.area, rel=1e-4)
    ring = trimesh.creation.torus(30, 10, 256, 256)
    assert Ring(60, 20).surface_cm2 * 100 == pytest.approx(ring.area, rel=1e-3)


@given(sizes, sizes, sizes, st.floats(0.2, 5))
def test_volume_goes_with_the_cube_and_surface_with_the_square(a, b, h, k):
    for small, large in (
        (Box(a, b, h), Box(k * a, k * b, k * h)),
        (Frustum(a, b, h), Frustum(k * a, k * b, k * h)),
        (TaperedBox(a, b, b, a, h), TaperedBox(k * a, k * b, k * b, k * a, k * h)),
    ):
        assert large.volume_cm3 == pytest.approx(k**3 * small.volume_cm3)
        assert large.surface_cm2 == pytest.approx(k**2 * small.surface_cm2)


@given(st.lists(st.builds(Box, sizes, sizes, sizes), min_size=2, max_size=6))
def test_what_is_added_and_taken_away_again_leaves_the_first(boxes):
    assert together_cm3(boxes, boxes[1:]) == pytest.approx(boxes[0].volume_cm3, rel=1e-6, abs=1e-6)


@pytest.mark.parametrize("bad", [0, -1, math.nan, math.inf, 10_001])
def test_a_size_that_nothing_has_is_refused(bad):
    for shape in (
        lambda: Box(bad, 1, 1),
        lambda: Box(1, bad, 1),
        lambda: Box(1, 1, bad),
        lambda: cylinder(bad, 1),
        lambda: Frustum(1, 1, bad),
        lambda: TaperedBox(bad, 1, 1, 1, 1),
        lambda: TaperedBox(1, 1, 1, 1, bad),
        lambda: Ring(bad, 1),
        lambda: Ring(50, bad),
    ):
        with pytest.raises(Refused, match=" mm"):
            shape()


def test_a_point_at_both_ends_is_no_cup():
    with pytest.raises(Refused, match="bottom diameter is 0 mm"):
        Frustum(0, 0, 10)


def test_a_ring_thicker_than_it_is_wide_is_refused():
    with pytest.raises(Refused, match="cannot be 60 mm thick"):
        Ring(50, 60)


def test_taking_away_all_there_is_is_refused():
    box = Box(10, 10, 10)
    with pytest.raises(Refused, match="are taken away from"):
        together_cm3([box], [box])
    with pytest.raises(Refused, match="are taken away from 0 cm³"):
        together_cm3([], [])
