"""Foam arithmetic against published definitions and worked examples. The source stands beside each."""

import pytest

from station.casting import foam
from station.casting.foam_practice import FoamSort, warnings_of


def test_overpack_and_packing_factor_are_not_the_same():
    # Rigid-foam molding patent text: packing factor = molded / free-rise density; overpack % = 100 x injected / minimum
    # fill weight. 69 g where 60 g just fill is 115 %.
    made = foam.shot(500, 0.0958333333, packing=1.44)
    assert made.part_g == pytest.approx(69, abs=0.01)
    assert made.overpack_percent(60) == pytest.approx(115, abs=0.02)
    assert made.packing == pytest.approx(1.44)


def test_a_two_pound_foam_is_a_pound_of_each_per_cubic_foot():  # foam-casting practice page
    pound, foot3 = 453.59237, 28316.846592  # exact, NIST SP 811
    made = foam.shot(foot3, 2 * pound / foot3)
    assert made.mixed_g == pytest.approx(2 * pound)
    assert foam.split(made.mixed_g, (1, 1)) == pytest.approx((pound, pound))


def test_a_packed_cavity_with_loss_and_split():  # constructed: m = V x density x packing; 500 ml, 80 kg/m3, 1.2, 5 %
    made = foam.shot(500, 0.080, packing=1.2, loss_percent=5)
    assert made.part_g == pytest.approx(48)
    assert made.mixed_g == pytest.approx(50.526316, abs=1e-5)
    assert foam.split(made.mixed_g, (2, 1)) == pytest.approx((33.684211, 16.842105), abs=1e-5)
    assert foam.split(made.mixed_g, (1, 1)) == pytest.approx((25.263158, 25.263158), abs=1e-5)


def test_the_cavity_is_divided_by_the_expansion():  # constructed: 1000 ml / 8 = 125 ml of liquid, 137.5 g at 1.10 g/ml
    made = foam.shot(1000, foam.free_rise_from_expansion(1.1, 8))
    assert made.mixed_g == pytest.approx(137.5)
    assert made.liquid_cm3(1.1) == pytest.approx(125)
    assert "8.8 kg" in foam.if_multiplied(1000, 1.1, 8)
    assert "64 times" in foam.if_multiplied(1000, 1.1, 8)


def test_a_gallon_of_four_pound_foam():  # unit chain by NIST SP 811: 231 in3 at 4 lb/ft3
    in3 = 16.387064
    assert foam.shot(231 * in3, 4 * 453.59237 / 28316.846592).mixed_g == pytest.approx(242.546, abs=1e-3)


def test_a_light_shoe_sole_foam_lies_in_the_published_range():
    # US patent 7,670,501 (2010), abstract: free rise 30 to 300 kg/m3, molded up to 300 kg/m3.
    made = foam.shot(180, 0.220, packing=1.3)
    assert 0.030 <= made.free_rise <= 0.300
    assert made.molded == pytest.approx(0.286)


def test_the_usual_ranges_are_those_of_practice_and_are_named_so():
    # Common practice, no source, from memory: overpack 103 to 115 % for flexible molded foam, 105 to 120 % for rigid
    # poured in place; packing factor 1.5 to 4 for integral skin.
    assert FoamSort.FLEXIBLE.usual.overpack_percent == (103, 115)
    assert FoamSort.RIGID.usual.overpack_percent == (105, 120)
    assert FoamSort.SKINNED.usual.packing == (1.5, 4)
    for sort, packing in ((FoamSort.FLEXIBLE, 2), (FoamSort.RIGID, 2), (FoamSort.SKINNED, 5)):
        assert "common practice" in warnings_of(foam.shot(100, 0.1, packing=packing), sort)[0]
