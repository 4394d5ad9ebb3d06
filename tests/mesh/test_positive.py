"""A positive in another unit, scaled and mirrored; and what is said about it."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.casting import positive_said as said
from station.casting.positive import Leak, Positive, Unit, from_file_units, growth, mirrored, read_as, scaled
from station.casting.positive_scale import factors, per_cent
from station.errors import Refused


def part(x=120.0, y=80.0, z=30.0, volume=150_000.0, stated=None, **more):
    """A part as a file has it, in its own unit."""
    plain = Positive(
        (x, y, z), volume, 40_000.0, 12, 1, closed=True, consistent=True, unit=Unit.MM, unit_why="", sure_of_unit=False
    )
    from dataclasses import replace

    return from_file_units(replace(plain, **more), stated)


def test_a_part_drawn_in_millimetres_is_taken_so_and_asked_about():
    found = part()
    assert (found.volume_cm3, found.area_cm2, found.unit) == (150.0, 400.0, Unit.MM)
    assert said.size(found) == "120 × 80 × 30 mm"
    assert said.question(found) == "Is it 120 × 80 × 30 mm? In inches it would be 3048 mm long."


def test_a_part_too_small_for_millimetres_is_taken_for_inches():
    found = part(4.72, 3.15, 1.18, 9.0)
    assert found.unit is Unit.IN
    assert said.question(found) == "Is it 119.9 × 80 × 30 mm? In millimetres it would be 4.72 mm long."


def test_inch_for_millimetre_is_a_factor_of_16387_in_volume():
    # 25.4³: the inch is exactly 25.4 mm, NIST SP 811 (2008), Appendix B.
    assert read_as(part(), Unit.IN).volume_cm3 / part().volume_cm3 == pytest.approx(16387.064, abs=1e-6)


def test_a_stated_unit_is_not_asked_about():
    assert said.question(part(stated=25.4)) == ""
    assert part(stated=25.4).extents_mm[0] == pytest.approx(3048)


@given(st.sampled_from(list(Unit)), st.sampled_from(list(Unit)))
def test_the_unit_can_be_changed_back_and_forth(one, other):
    there = read_as(part(), one)
    back = read_as(read_as(there, other), one)
    assert back.volume_cm3 == pytest.approx(there.volume_cm3, rel=1e-12)
    assert back.extents_mm == pytest.approx(there.extents_mm, rel=1e-12)
    assert back.sure_of_unit


def test_volume_scales_with_the_cube():
    # 1.05³ × 1000 = 1157.625: geometry.
    assert scaled(part(volume=1_000_000.0), (1.05,) * 3).volume_cm3 == pytest.approx(1157.625, abs=1e-9)
    assert scaled(part(), (1.05,) * 3).area_cm2 == pytest.approx(400 * 1.05**2)


def test_uneven_scaling_gives_the_product_and_no_area():
    found = scaled(part(), (1.1, 1.0, 0.9))
    assert found.volume_cm3 == pytest.approx(150 * 1.1 * 0.9)
    assert found.extents_mm == pytest.approx((132, 80, 27))
    assert found.area_cm2 is None
    assert "uneven" in said.area(found)


@pytest.mark.parametrize(("percent", "factor"), [(0.1, 1.001001), (0.5, 1.0050251), (0.0, 1.0)])
def test_the_growth_makes_up_for_the_shrinkage(percent, factor):
    # 1 / (1 − s): geometry.
    assert growth(percent) == pytest.approx(factor, abs=1e-6)
    assert growth(percent) * (1 - percent / 100) == pytest.approx(1, rel=1e-12)


def test_the_other_hand_has_the_same_numbers_and_its_leaks_on_the_other_side():
    found = part(leaks=(Leak((5.0, 2.0, 1.0), 9.0, 3),), closed=False, leaking=1, open_edges=3)
    other = mirrored(found)
    assert (other.extents_mm, other.volume_cm3, other.mirrored) == (found.extents_mm, found.volume_cm3, True)
    assert other.leaks[0].at_mm == (-5.0, 2.0, 1.0)
    assert said.leak(other.leaks[0]).startswith("5.0 mm left, 2.0 mm back, 1.0 mm above of the middle")
    assert mirrored(other) == found


def test_what_stands_in_the_way_of_a_volume_is_said():
    leaking = part(volume=None, closed=False, leaking=2, open_edges=7)
    assert "2 holes, 7 open edges" in said.warnings(leaking)[0]
    assert "contradict" in said.warnings(part(volume=None, consistent=False))[0]
    assert said.warnings(part()) == ()
    assert said.volume(leaking) == "unknown: see below"


def test_what_was_found_and_done_is_noted():
    notes = said.notes(part(inverted=True, turned=3, bodies=2, hollows=1))
    assert [note.split()[0] for note in notes] == ["The", "3", "2", "1"]
    assert said.notes(scaled(part(), (1.1, 1, 1))) == ("Scaled by 1.1 × 1 × 1 (right, back, up).",)


@pytest.mark.parametrize(
    ("text", "three"), [("1.05", (1.05,) * 3), ("1,05", (1.05,) * 3), ("1.1 x 1 × 0.9", (1.1, 1.0, 0.9))]
)
def test_factors_are_read_as_typed(text, three):
    assert factors(text) == three


@pytest.mark.parametrize("text", ["", "x", "1x2", "1 2 3", "-1", "1e3", "nan", "1x1x1x1", "9" * 40])
def test_what_is_no_scale_is_refused(text):
    with pytest.raises(Refused, match="is no scale"):
        factors(text)


@pytest.mark.parametrize("factor", [0.0, -1.0, math.inf, math.nan, 1e9])
def test_no_part_is_scaled_to_nothing_or_to_a_mountain(factor):
    with pytest.raises(Refused, match="is no scale"):
        scaled(part(), (1, factor, 1))


def test_percentages_are_read_and_bad_ones_refused():
    assert (per_cent("0,5 %"), per_cent(" -2 ")) == (0.5, -2.0)
    with pytest.raises(Refused, match="is no percentage"):
        per_cent("half")
    with pytest.raises(Refused, match="is no shrinkage"):
        growth(60)
