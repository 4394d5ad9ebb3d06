"""The arithmetic of the batch against figures from outside the project; the source stands beside each."""

import pytest

from station.casting.cling import cling_percent, with_allowance
from station.casting.ratio import ratio_error_percent, weight_shares
from station.core.mass import Mass
from station.metrology.promise import ScalePromise
from station.metrology.tolerance import window_mg
from tests.play import RUBBER, SILICONE, Play


@pytest.mark.parametrize(
    ("s", "d", "percent", "grams"),
    [
        # USP <41> Balances: 2 s / m <= 0.10 %, s floored at 0.41 d; a 0.1 mg balance then starts at 82 mg.
        (0, 0.0001, 0.1, 0.082),
        # The same form with other tolerances (derived from the published formula).
        (0, 0.1, 0.5, 16.4),
        (0, 0.1, 1.0, 8.2),
        (0, 0.1, 2.0, 4.1),
        (0, 1.0, 1.0, 82.0),
        (0, 0.01, 1.0, 0.82),
    ],
)
def test_minimum_mass_follows_the_form_of_usp_41(s, d, percent, grams):
    assert ScalePromise(d, 3000, s).smallest_g(percent) == pytest.approx(grams, rel=1e-9)


def test_a_repeatability_above_the_rounding_floor_counts():
    assert ScalePromise(0.1, 3000, repeatability_g=0.06).smallest_g(1.0) == pytest.approx(12.0)


def test_splitting_a_total_by_weight():
    # Worked example of ratio by weight: 50.526316 g at 2 : 1 and at 1 : 1 (constructed, recomputed).
    assert [50.526316 * share for share in weight_shares([2, 1])] == pytest.approx([33.684211, 16.842105], abs=1e-5)
    assert [50.526316 * share for share in weight_shares([1, 1])] == pytest.approx([25.263158, 25.263158], abs=1e-5)


def test_after_an_overshoot_of_a_the_b_follows_from_what_is_in_the_cup():
    # Worked example (constructed): 103 g of A at 100 : 50 by weight call for 51.5 g of B.
    a, b = weight_shares([100, 50])
    assert 103 / a * b == pytest.approx(51.5, abs=1e-9)
    assert ratio_error_percent(103, 51.5, a, b) == pytest.approx(0, abs=1e-9)


def test_a_ratio_by_volume_is_weighed_through_the_densities():
    # Definition of density, mass = volume x density: equal volumes weigh as their densities.
    a, b = weight_shares([1, 1], [1.06, 0.98])
    assert a / b == pytest.approx(1.06 / 0.98)
    plan = Play().begin(RUBBER, "204")
    assert [share.planned for share in plan.shares] == [Mass.grams("106"), Mass.grams("98")]


def test_taking_a_volume_ratio_for_a_weight_ratio_would_be_out_of_tolerance():
    a, b = weight_shares([1, 1], [1.06, 0.98])
    # Allowed error of a urethane's ratio 1 to 2 %: common practice, no source (from memory).
    assert abs(ratio_error_percent(100, 100, a, b)) > 2


@pytest.mark.parametrize(("parts", "densities"), [([0, 1], None), ([-1, 1], None), ([1, 1], [1.0, None])])
def test_a_ratio_that_is_none_is_refused(parts, densities):
    with pytest.raises(ValueError, match=r"part|density"):
        weight_shares(parts, densities)


def test_the_window_is_the_tolerance_rounded_inwards_to_milligrams():
    # 62.4 g ± 1 % is 61.776 g to 63.024 g exactly (arithmetic).
    assert window_mg(62400, 1) == (61776, 63024)
    low, high = window_mg(10001, 1)
    assert low >= 10001 * 0.99
    assert high <= 10001 * 1.01


def test_cling_is_the_sheets_value_until_cups_were_weighed_then_their_mean():
    assert cling_percent(1.0, []) == 1.0
    assert cling_percent(1.0, [2.0, 3.0]) == 2.5
    assert cling_percent(1.0, [9.0, 2.0, 2.0, 2.0, 2.0, 2.0]) == 2.0
    weighed = with_allowance(100.0, 2.0)
    assert weighed * 0.98 == pytest.approx(100.0)


def test_per_cent_of_a_component_and_of_the_total():
    # Arithmetic: 3 % of 60 g B is 1.8 g; 2 % of the 160 g of both components is 3.2 g.
    from dataclasses import replace

    from station.core.material import TOTAL, Additive
    from tests.play import FOAM

    both = replace(
        FOAM,
        additives=(Additive("pigment", 3, "B", "B"), Additive("filler", 2, TOTAL, "B", tolerance_percent=5)),
    )
    plan = Play().begin(both, "165")
    masses = {share.ingredient: (share.planned - share.stays).g for share in plan.shares}
    assert masses == pytest.approx({"A": 100, "B": 60, "pigment": 1.8, "filler": 3.2}, abs=0.002)
    assert SILICONE.additives == ()
