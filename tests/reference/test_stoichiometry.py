"""Equivalents, index, water and gas against published figures. The source stands beside each."""

import pytest

from station.casting import stoichiometry as st
from station.errors import Refused

FORMULA_PAGE = "trade-association formula page: 4202 / %NCO, 56100 / OH number (some print 4200)"


@pytest.mark.parametrize(("nco", "weight"), [(31.5, 133.39683), (31, 135.54839), (16.8, 250.11905), (48.25, 87.08808)])
def test_the_equivalent_weight_of_an_isocyanate(nco, weight):  # FORMULA_PAGE
    assert st.isocyanate_weight(nco) == pytest.approx(weight, abs=1e-4)


@pytest.mark.parametrize(("oh", "weight"), [(112, 500.89286), (400, 140.25), (1810, 30.994)])
def test_the_equivalent_weight_of_a_polyol(oh, weight):  # FORMULA_PAGE; 1810 -> 31.0 is its ethylene-glycol example
    assert st.polyol_weight(oh) == pytest.approx(weight, abs=1e-3)


def test_water_takes_two_isocyanate_groups():  # M = 18.01528 (IUPAC), halved; using 18 is a known error
    assert st.water_weight() == pytest.approx(9.00764, abs=1e-5)


def test_a_published_foam_example_with_its_slip_corrected():
    # Published foam worked example: 100 g polyester, OH 56, acid 0.5, 3 g water, index 105, TDI of 87 g/eq. It prints
    # 39.64 g because of a slip (0.1554 x 56.5 = 8.780, not 8.749); the consistent answer is 39.67 g.
    takers = (st.Taker(100, st.polyol_weight(56, 0.5)), st.Taker(3, 9.0))
    assert st.isocyanate_needed(takers, 87, 105) == pytest.approx(39.67, abs=0.03)


def test_a_softer_foam_with_more_water():  # constructed from the same formulas: equivalents x index
    takers = (st.Taker(100, st.polyol_weight(56.1)), st.Taker(4, st.water_weight()))
    assert st.isocyanate_needed(takers, 87.08, 105) == pytest.approx(49.76, abs=0.03)


def test_a_cast_elastomer_ratio_from_its_numbers():  # constructed: A = index x (100 / EW_B) x EW_A
    takers = (st.Taker(100, st.polyol_weight(112)),)
    assert st.isocyanate_needed(takers, st.isocyanate_weight(16.8), 105) == pytest.approx(52.43137, abs=1e-4)


def test_weighing_errors_move_the_index():  # constructed: the index goes with A / B
    assert st.index_after(105, isocyanate_error_percent=2) == pytest.approx(107.1)
    assert st.index_after(105, polyol_error_percent=2) == pytest.approx(102.941176, abs=1e-6)


def test_a_trace_of_water_eats_five_points_of_index():  # constructed: 0.05 % in a 1000 g/eq polyol
    polyol = st.Taker(100, st.polyol_weight(56.1))
    needed = st.isocyanate_needed((polyol,), 250.0, 105)
    assert st.index_of(needed, 250.0, (polyol, st.Taker(0.05, st.water_weight()))) == pytest.approx(99.4775, abs=1e-3)


def test_a_gram_of_water_makes_more_than_a_litre_of_gas():  # ideal gas, R of CODATA
    assert st.gas_litres(1, 23, 101.325) == pytest.approx(1.34893, abs=1e-4)


def test_a_tenth_of_a_gram_of_water_presses_on_a_closed_can():  # constructed, ideal gas; 27.52 kPa = 3.992 psi
    assert st.can_pressure_kpa(0.1, 500, 25) == pytest.approx(27.52, abs=0.005)
    assert st.can_pressure_kpa(0.1, 500, 25) / 6.894757293168 == pytest.approx(3.992, abs=0.005)  # psi, NIST SP 811


@pytest.mark.parametrize(
    "call",
    [
        lambda: st.isocyanate_weight(0),
        lambda: st.polyol_weight(-3),
        lambda: st.index_of(1, 100, ()),
        lambda: st.can_pressure_kpa(1, 0),
        lambda: st.isocyanate_needed((), 100, 0),
    ],
)
def test_what_cannot_be_is_refused_with_a_sentence(call):
    with pytest.raises(Refused) as refused:
        call()
    assert refused.value.hint
