"""Shrinkage, scaling and footwear sizes: laws and refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.casting.sizes import (
    Scaling,
    SizeSystem,
    grade,
    last_mm,
    nearest_made,
    pattern_scale,
    shrinkage_percent,
    size_of,
    volume_shrinkage_percent,
)
from station.errors import Refused

shrinkages = st.floats(-20, 20)


@given(shrinkages, st.floats(1, 1000))
def test_a_part_from_an_enlarged_pattern_comes_out_at_its_wanted_size(percent, wanted_mm):
    pattern = wanted_mm * pattern_scale(percent)
    part = pattern * (1 - percent / 100)
    assert part == pytest.approx(wanted_mm)
    assert shrinkage_percent(pattern, part) == pytest.approx(percent, abs=1e-9)


@given(shrinkages)
def test_volume_after_shrinking_is_the_inverse_of_the_scaling_against_it(percent):
    left = 1 - volume_shrinkage_percent(percent) / 100
    assert left * Scaling(*[pattern_scale(percent)] * 3).volume == pytest.approx(1)


@given(st.floats(0.001, 2))
def test_volume_shrinks_about_three_times_as_much(percent):
    assert volume_shrinkage_percent(percent) == pytest.approx(3 * percent, rel=0.021)


def test_adding_the_shrinkage_instead_of_dividing_by_what_is_left_falls_short():
    assert (1 + 0.05) * (1 - 0.05) < 1 - 0.002
    assert pattern_scale(5) > 1.05


def test_a_scaling_that_differs_has_a_volume_but_no_factor_for_any_surface():
    assert Scaling(1.1, 1.0, 1.2).volume == pytest.approx(1.32)
    assert Scaling(1.1, 1.0, 1.2).area is None
    assert Scaling.uniform(1.1).area == pytest.approx(1.21)


@given(st.sampled_from(SizeSystem), st.floats(81, 399), st.floats(0, 25))
def test_a_last_keeps_its_length_through_any_size(system, last, toe_room):
    assert last_mm(system, size_of(system, last, toe_room), toe_room) == pytest.approx(last)


def test_childrens_sizes_go_on_where_adults_begin():
    assert last_mm(SizeSystem.UK_CHILD, 14) == pytest.approx(last_mm(SizeSystem.UK_ADULT, 1))


def test_a_mondopoint_size_is_the_foot_and_the_last_is_longer():
    assert last_mm(SizeSystem.MONDOPOINT, 265) == 280
    assert last_mm(SizeSystem.MONDOPOINT, 265, 20) == 285


@pytest.mark.parametrize(("foot", "grade_mm", "made"), [(263, 5, 265), (262.4, 5, 260), (263, 7.5, 262.5)])
def test_a_foot_gets_the_nearest_size_that_is_made(foot, grade_mm, made):
    assert nearest_made(foot, grade_mm) == made


@pytest.mark.parametrize(
    "call",
    [
        lambda: pattern_scale(100),
        lambda: pattern_scale(math.nan),
        lambda: volume_shrinkage_percent(-21),
        lambda: shrinkage_percent(0, 10),
        lambda: shrinkage_percent(10, -1),
        lambda: shrinkage_percent(math.inf, 1),
        lambda: Scaling(0, 1, 1),
        lambda: Scaling(1, math.nan, 1),
        lambda: last_mm(SizeSystem.PARIS, 4),
        lambda: last_mm(SizeSystem.UK_ADULT, 280),
        lambda: size_of(SizeSystem.PARIS, 28),
        lambda: size_of(SizeSystem.MONDOPOINT, math.nan),
        lambda: grade(280, 2800),
        lambda: nearest_made(263, 6),
    ],
)
def test_what_no_part_or_foot_has_is_refused_in_a_sentence(call):
    with pytest.raises(Refused) as refused:
        call()
    assert refused.value.hint
