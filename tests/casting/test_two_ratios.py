"""One ratio told by weight and by volume: agreement within the printed digits, told apart beyond them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.casting.two_ratios import Printed, compared, printed, printed_densities, printed_parts

DENSITIES = ("1.06", "0.98")


def told(weight, volume, densities=DENSITIES):
    return compared(printed_parts(weight), printed_parts(volume), printed_densities(densities))


def test_a_printed_part_may_be_half_a_step_more_or_less():
    assert printed("55") == Printed(55, 0.5)
    assert printed("55.0").half == pytest.approx(0.05)
    assert printed(0.92).half == pytest.approx(0.005)


def test_small_whole_numbers_and_the_hundred_are_fixed_and_the_rest_is_rounded():
    assert [part.half for part in printed_parts(("10", "1"))] == [0, 0]
    assert [part.half for part in printed_parts(("100", "55"))] == [0, 0.5]
    assert [part.half for part in printed_parts(("55", "45"))] == [0.5, 0.5]
    assert [density.half for density in printed_densities(("1", "1.25"))] == pytest.approx([0.05, 0.005])


def test_two_statements_agree_within_what_was_printed():
    agreed = told(("100", "92"), ("1", "1"))
    assert agreed.agrees
    assert agreed.percent == pytest.approx(abs((0.98 / 1.06) / 0.92 - 1) * 100)
    # By hand: 0.98 ± 0.005 ÷ 1.06 ± 0.005 is 0.9155 to 0.9336.
    assert (agreed.by_volume.low, agreed.by_volume.high) == pytest.approx((91.549, 93.365), abs=1e-3)
    said = agreed.sentence("AB")
    assert "92 g (91.5 to 92.5 g as printed) of B" in said
    assert "92.45 g" in said
    assert said.endswith("no more than rounding explains.")


def test_two_statements_that_differ_by_more_than_rounding_are_told_apart_with_both_numbers():
    off = told(("100", "60"), ("1", "1"), ("1.23", "1.04"))
    assert not off.agrees
    assert off.percent == pytest.approx(abs((1.04 / 1.23) / 0.6 - 1) * 100)
    assert "60 g" in off.sentence("AB")
    assert "84.55 g" in off.sentence("AB")
    assert "more than rounding explains" in off.sentence("AB")


def test_more_printed_digits_leave_less_open():
    assert told(("100", "93"), ("1", "1")).agrees
    assert not told(("100", "93.0"), ("1", "1"), ("1.060", "0.980")).agrees


def test_a_hundredfold_slip_is_told_without_an_exponent():
    assert "5500 % apart" in told(("100", "1.65"), ("1", "1")).sentence("AB")


def test_of_three_components_the_worst_is_named():
    found = told(("100", "50", "5"), ("100", "50", "9"), ("1.00", "1.00", "1.00"))
    assert (found.agrees, found.worst) == (False, 2)
    assert "of C" in found.sentence("ABC")


@given(
    st.lists(st.tuples(st.floats(1, 100), st.floats(0.8, 1.6)), min_size=2, max_size=4),
    st.integers(0, 2),
)
def test_a_ratio_truly_the_same_agrees_however_it_was_rounded(pairs, places):
    def digits(value, decimals):
        return f"{value:.{decimals}f}"

    first = pairs[0][0]
    weights = [100 * part / first for part, _ in pairs]
    volumes = [part / density for part, density in pairs]
    volumes = [100 * volume / volumes[0] for volume in volumes]
    weight_texts, volume_texts = [digits(w, places) for w in weights], [digits(v, places) for v in volumes]
    if all(float(text) > 10 for text in (*weight_texts, *volume_texts)):
        assert told(weight_texts, volume_texts, [digits(density, 2) for _, density in pairs]).agrees


@pytest.mark.parametrize("parts", [(("100",), ("1",)), (("100", "0"), ("1", "1")), (("100", "50", "1"), ("1", "1"))])
def test_statements_that_cannot_be_compared_are_refused(parts):
    with pytest.raises(ValueError, match=r"mix ratio|same components"):
        told(*parts)
