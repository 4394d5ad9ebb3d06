"""Shapes, scaling, shrinkage and footwear sizes against published values and formulas."""

import pytest

from station.casting.shapes import Box, Ring, together_cm3
from station.casting.sizes import (
    BARLEYCORN_MM,
    MONDOPOINT_GRADES_MM,
    Scaling,
    SizeSystem,
    grade,
    last_mm,
    pattern_scale,
    shrinkage_percent,
    volume_shrinkage_percent,
)
from station.casting.units import MM


def test_a_ring_has_the_volume_of_pappus():
    # 2 pi² R r² with R = 30 mm, r = 10 mm.
    assert Ring(60, 20).volume_cm3 * 1000 == pytest.approx(59217.626407, abs=1e-6)


def test_a_mold_box_holds_what_is_left_around_the_positive():
    # Constructed: 12.7 mm (1/2 inch) on every side of 120 x 80 x 30 mm, a positive of 150 ml in it; the clearance is
    # common practice.
    box = Box(*(side + 2 * 12.7 for side in (120, 80, 30)))
    assert (box.length_mm, box.width_mm, box.height_mm) == pytest.approx((145.4, 105.4, 55.4))
    assert box.volume_cm3 == pytest.approx(849.1, abs=0.1)
    assert together_cm3([box], [Box(100, 100, 15)]) == pytest.approx(699.1, abs=0.1)


def test_volume_scales_with_the_cube():
    # Geometry: 1000 mm³ enlarged 1.05 times.
    assert 1000 * Scaling.uniform(1.05).volume == pytest.approx(1157.625, abs=1e-9)
    # Inches read as millimetres: 25.4³ (NIST Handbook 44, appendix C for the inch).
    assert Scaling.uniform(float(MM["in"])).volume == pytest.approx(16387.064, abs=1e-6)


def test_shrinkage_is_told_in_per_cent_of_the_mold():
    # ASTM D2566 / ISO 2577: 100 (Lm - Lp)/Lm.
    assert shrinkage_percent(250.0, 249.25) == pytest.approx(0.3, abs=1e-9)


@pytest.mark.parametrize(
    ("linear", "volume", "scale"),
    # Geometry: 1 - (1 - s)³ and 1/(1 - s).
    [(0.1, 0.2997001, 1.001001), (0.5, 1.4925125, 1.0050251)],
)
def test_shrinkage_of_volume_and_scale_of_the_pattern(linear, volume, scale):
    assert volume_shrinkage_percent(linear) == pytest.approx(volume, abs=1e-6)
    assert pattern_scale(linear) == pytest.approx(scale, abs=1e-6)


@pytest.mark.parametrize(
    ("system", "size", "mm"),
    [
        # EU = 1.5 x last length in cm.
        (SizeSystem.PARIS, 36, 240.0),
        (SizeSystem.PARIS, 42, 280.0),
        (SizeSystem.PARIS, 45, 300.0),
        # UK adult = 3 x inches - 25; UK child = 3 x inches - 12.
        (SizeSystem.UK_ADULT, 8, 279.4),
        (SizeSystem.UK_CHILD, 10, 186.2667),
    ],
)
def test_a_footwear_size_is_a_length_of_last(system, size, mm):
    assert last_mm(system, size) == pytest.approx(mm, abs=1e-4)


def test_a_barleycorn_is_a_third_of_an_inch():
    assert pytest.approx(8.4666667, abs=1e-6) == BARLEYCORN_MM
    assert pytest.approx(4.2333333, abs=1e-6) == BARLEYCORN_MM / 2


def test_mondopoint_is_made_in_two_grades():
    # ISO 9407 with DIN 66074-2 as cited in ISO/TS 19407:2015.
    assert MONDOPOINT_GRADES_MM == (5.0, 7.5)


def test_one_eu_size_more_is_seven_per_cent_of_volume_if_it_grew_alike_everywhere():
    # Ratio of last lengths, EU 42 to 43, and its cube; real grading is not uniform.
    step = grade(last_mm(SizeSystem.PARIS, 42), last_mm(SizeSystem.PARIS, 43))
    assert step.x == pytest.approx(1.0238095, abs=1e-6)
    assert step.volume == pytest.approx(1.0731427, abs=1e-6)
