"""Weights, classes and tolerances of scales against the published tables; the source stands beside each."""

import math
from itertools import pairwise

import pytest

from station.errors import Refused
from station.metrology import handbook44
from station.metrology.classes import (
    TABLE_3,
    AccuracyClass,
    before_rounding_g,
    corner_load_g,
    corrected_error_g,
    minimum_capacity_g,
    permissible_error_g,
    permissible_repeatability_g,
    possible_classes,
)
from station.metrology.figures import corner_spread_g, repeatability_g
from station.metrology.handbook44 import HandbookClass, recommended_minimum_load_d, tolerance_d
from station.metrology.promise import ScalePromise
from station.metrology.readings import Corners
from station.metrology.uncertainty import ratio_uncertainty, smallest_holdable_g
from station.metrology.weights import NOMINALS_G, WeightClass, permissible_error_mg, weight_class


@pytest.mark.parametrize(
    ("accuracy_class", "load_g", "e_g", "error_g"),
    [
        # OIML R 76-1:2006, Table 6 (3.5.1), every step of the table.
        ("III", 500, 1, 0.5),
        ("III", 501, 1, 1),
        ("III", 2001, 1, 1.5),
        ("III", 250, 0.5, 0.25),
        ("III", 1500, 0.5, 0.75),
        ("II", 500, 0.1, 0.05),
        ("II", 2000, 0.1, 0.1),
        ("II", 2000.1, 0.1, 0.15),
        ("I", 50, 0.001, 0.0005),
        ("I", 200.001, 0.001, 0.0015),
        ("IIII", 50, 1, 0.5),
        ("IIII", 51, 1, 1),
    ],
)
def test_the_permissible_error_follows_table_6_of_oiml_r_76(accuracy_class, load_g, e_g, error_g):
    assert permissible_error_g(AccuracyClass(accuracy_class), load_g, e_g) == pytest.approx(error_g, abs=1e-9)


def test_in_service_the_permissible_error_is_twice_that_of_verification():
    # OIML R 76-1:2006, 3.5.2: 0.5 g becomes 1 g.
    assert permissible_error_g(AccuracyClass.III, 500, 1, in_service=True) == pytest.approx(1.0, abs=1e-12)


def test_a_load_beyond_the_end_of_its_class_is_refused():
    # OIML R 76-1:2006, Table 6: class III ends at 10 000 e.
    assert permissible_error_g(AccuracyClass.III, 10_000, 1) == 1.5
    with pytest.raises(Refused, match="class III ends at 10000 e"):
        permissible_error_g(AccuracyClass.III, 10_001, 1)


def test_the_rows_of_table_3_are_those_of_oiml_r_76():
    # OIML R 76-1:2006, Table 3 (3.2): class, e from and to in g, n from and to, Min in e.
    assert [
        (row.accuracy_class.value, row.e_from_g, row.e_to_g, row.n_from, row.n_to, row.min_e) for row in TABLE_3
    ] == [
        ("I", 0.001, math.inf, 50_000, math.inf, 100),
        ("II", 0.001, 0.05, 100, 100_000, 20),
        ("II", 0.1, math.inf, 5_000, 100_000, 50),
        ("III", 0.1, 2, 100, 10_000, 20),
        ("III", 5, math.inf, 500, 10_000, 20),
        ("IIII", 5, math.inf, 100, 1_000, 10),
    ]


@pytest.mark.parametrize(
    ("e_g", "max_g", "classes"),
    [
        # Read off Table 3: n = 3 000 at 1 g; n = 30 000 and n = 6 000 at 0.1 g; n = 600 at 5 g; n = 20 at 100 g.
        (1, 3000, ["III"]),
        (0.1, 3000, ["II"]),
        (0.1, 600, ["II", "III"]),
        (5, 3000, ["III", "IIII"]),
        (100, 2000, []),
    ],
)
def test_e_and_max_tell_what_class_a_scale_can_be_of(e_g, max_g, classes):
    assert [row.accuracy_class.value for row in possible_classes(e_g, max_g)] == classes


def test_a_class_that_e_and_max_rule_out_is_refused_with_the_one_it_could_be():
    assert minimum_capacity_g(AccuracyClass.III, 1, 3000) == 20
    with pytest.raises(Refused, match=r"cannot be of class II; it could be of class III\."):
        minimum_capacity_g(AccuracyClass.II, 1, 3000)


def test_the_worked_example_of_finding_the_reading_before_rounding():
    # OIML R 76-1:2006, A.4.4.3: P = I + e/2 - dL = 1000 + 2.5 - 1.5 = 1001 g; Ec = E - E0 = 1 - 0.5 = 0.5 g.
    assert before_rounding_g(1000, 5, 1.5) == pytest.approx(1001, abs=1e-9)
    assert corrected_error_g(1.0, 0.5) == pytest.approx(0.5, abs=1e-9)


def test_corners_are_tested_with_a_third_of_max_up_to_four_supports():
    # OIML R 76-1:2006, 3.6.2 (from memory).
    assert corner_load_g(6000, 4) == pytest.approx(2000, abs=1e-9)
    assert corner_load_g(6000, 7) == pytest.approx(1000, abs=1e-9)


def test_the_same_load_elsewhere_may_move_the_reading_by_the_permissible_error_at_most():
    # OIML R 76-1:2006, 3.6.2; the same rule in the French order of 24 March 1972, art. 9.3.
    load = corner_load_g(6000)
    moved = corner_spread_g(Corners(load, 2000, 2001, 2000, 1999, 2000))
    assert moved == 2
    assert moved <= permissible_error_g(AccuracyClass.III, load, 2)  # 1 000 e: 1 e = 2 g
    assert moved > permissible_error_g(AccuracyClass.III, load, 1)  # 2 000 e: 1 e = 1 g


def test_fine_scales_scatter_by_a_third_of_the_permissible_error_at_most():
    # French order (arrêté) of 24 March 1972, art. 10.2: classes I and II, at least ten weighings.
    assert permissible_repeatability_g(0.15) == pytest.approx(0.05)


@pytest.mark.parametrize(
    ("handbook_class", "divisions", "maintenance", "acceptance"),
    [
        # NIST Handbook 44 (2023) 2.20, Table 6 and T.N.3.2.
        ("III", 500, 1, 0.5),
        ("III", 501, 2, 1.0),
        ("III", 2000, 2, 1.0),
        ("III", 4001, 5, 2.5),
        ("III", 10_000, 5, 2.5),
        ("II", 5001, 2, 1.0),  # from memory
        ("III L", 1001, 3, 1.5),  # from memory
    ],
)
def test_tolerances_follow_table_6_of_handbook_44(handbook_class, divisions, maintenance, acceptance):
    known = HandbookClass(handbook_class)
    assert tolerance_d(known, divisions) == pytest.approx(maintenance, abs=1e-9)
    assert tolerance_d(known, divisions, acceptance=True) == pytest.approx(acceptance, abs=1e-9)


def test_smallest_loads_follow_table_8_of_handbook_44():
    # NIST Handbook 44 (2023) 2.20, UR.3.1 Table 8; class II with d up to 0.05 g starts at 20 d.
    assert recommended_minimum_load_d(HandbookClass.II, 0.01) == 20
    coarse = {known.value: recommended_minimum_load_d(known, 0.1) for known in HandbookClass}
    assert coarse == {"I": 100, "II": 50, "III": 20, "III L": 50, "IIII": 10}


def test_the_two_rules_differ_at_5000_divisions_of_class_iii():
    # OIML R 76-1:2006, Table 6: 1.5 e; NIST Handbook 44 (2023) 2.20, Table 6: 2.5 d at acceptance.
    assert permissible_error_g(AccuracyClass.III, 5000, 1) == 1.5
    assert tolerance_d(HandbookClass.III, 5000, acceptance=True) == 2.5


@pytest.mark.parametrize(
    ("nominal_g", "mg"),
    [
        # OIML R 111-1:2004, Table 1 (5.1): E2, F1, F2, M1, M2, M3.
        (1, (0.03, 0.1, 0.3, 1, 3, 10)),
        (2, (0.04, 0.12, 0.4, 1.2, 4, 12)),
        (20, (0.08, 0.25, 0.8, 2.5, 8, 25)),
        (50, (0.1, 0.3, 1, 3, 10, 30)),
        (100, (0.16, 0.5, 1.6, 5, 16, 50)),
        (200, (0.3, 1, 3, 10, 30, 100)),
        (500, (0.8, 2.5, 8, 25, 80, 250)),
        (2000, (3, 10, 30, 100, 300, 1000)),
    ],
)
def test_permissible_errors_of_weights_follow_table_1_of_oiml_r_111(nominal_g, mg):
    assert tuple(permissible_error_mg(nominal_g, known) for known in WeightClass) == mg


@pytest.mark.parametrize("nominal_g", NOMINALS_G)
def test_each_class_of_weights_is_about_root_ten_coarser_than_the_next(nominal_g):
    # Construction of OIML R 111-1:2004, Table 1; it guards the rows that are from memory.
    errors = [permissible_error_mg(nominal_g, known) for known in WeightClass]
    for fine, coarse in pairwise(errors):
        assert coarse / fine == pytest.approx(math.sqrt(10), rel=0.12)


@pytest.mark.parametrize("known", WeightClass)
def test_a_heavier_weight_of_a_class_may_be_off_by_more_but_from_100_g_on_by_the_same_share(known):
    # Construction of OIML R 111-1:2004, Table 1: F1 is 5 ppm, M1 is 50 ppm from 100 g on, rounded to the series.
    errors = [permissible_error_mg(nominal, known) for nominal in NOMINALS_G]
    assert errors == sorted(errors)
    at_1_kg = permissible_error_mg(1000, known) / 1000
    shares = [permissible_error_mg(nominal, known) / nominal for nominal in NOMINALS_G if nominal >= 100]
    assert shares == pytest.approx([at_1_kg] * len(shares), rel=0.07)


@pytest.mark.parametrize(
    ("s", "d", "relative", "grams"),
    [
        # USP <41> Balances: 2 s / m <= 0.10 %, s floored at 0.41 d; a 0.1 mg balance then starts at 82 mg.
        (0, 0.0001, 0.001, 0.082),
        # The same form with other tolerances (derived from the published formula).
        (0, 0.1, 0.005, 16.4),
        (0, 0.1, 0.01, 8.2),
        (0, 0.1, 0.02, 4.1),
        (0, 1, 0.01, 82.0),
        (0, 0.01, 0.01, 0.82),
    ],
)
def test_a_scale_of_which_only_d_is_known_promises_the_smallest_mass_of_usp_41(s, d, relative, grams):
    promise = ScalePromise(readability_g=d, maximum_g=5000, repeatability_g=s)
    assert promise.smallest_g(100 * relative, k=2) == pytest.approx(grams, rel=1e-9)


def test_repeatability_is_the_sample_standard_deviation():
    # Procedure of USP <41> and OIML R 76-1:2006, A.4.10, n - 1; constructed readings.
    shown = (100.0, 100.1, 100.0, 99.9, 100.0, 100.1, 100.0, 100.0, 99.9, 100.1)
    assert repeatability_g(shown) == pytest.approx(0.0737865, abs=1e-6)


def test_relative_variances_add_in_a_quotient():
    # GUM (JCGM 100:2008) 5.1.6, eq. (12); constructed figures.
    density = ratio_uncertainty(250.0, 0.2, 221.0, 0.8)  # 250 g in 221 ml
    assert density.value == pytest.approx(1.131221719, abs=1e-7)
    assert density.u == pytest.approx(0.004193728, abs=1e-7)
    assert density.relative_percent == pytest.approx(0.3707255, abs=1e-5)
    ratio = ratio_uncertainty(100.0, 0.1, 50.0, 0.1)
    assert (ratio.value, ratio.u) == pytest.approx((2.0, 0.004472136), abs=1e-7)
    assert ratio.relative_percent == pytest.approx(0.2236068, abs=1e-5)


def test_three_grams_of_catalyst_on_a_tenth_gram_scale_are_a_poor_ratio():
    # GUM (JCGM 100:2008) 5.1.6, eq. (12); u of each weighing d / sqrt(6): 1.36 % of the ratio 100 : 3, k = 1.
    assert ratio_uncertainty(100.0, 0.0408248, 3.0, 0.0408248).relative_percent == pytest.approx(1.3614405, abs=1e-5)


def test_classes_are_read_as_people_write_them_and_unknown_ones_refused():
    assert weight_class(" m1 ") is WeightClass.M1
    assert handbook44.handbook_class("iii  l") is HandbookClass.III_L
    with pytest.raises(Refused, match="Weight class 'M4' is not known"):
        weight_class("M4")
    with pytest.raises(Refused, match="Accuracy class 'V' is not known"):
        handbook44.handbook_class("V")
    with pytest.raises(Refused, match="A weight of 300 g has no class"):
        permissible_error_mg(300, WeightClass.M1)
    with pytest.raises(Refused, match="The tolerance is nan"):
        smallest_holdable_g(math.nan, absolute_u_g=0.1)
