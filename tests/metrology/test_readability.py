"""Finding the display's step from what it shows."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.errors import Refused
from station.metrology.readability import TooFewValues, measured_readability, update_rate_hz


@given(
    st.sampled_from([1, 2, 5, 10, 20, 50]), st.integers(0, 4), st.sets(st.integers(1, 9999), min_size=8), st.booleans()
)
def test_every_multiple_of_a_step_shows_that_step(step, decimals, counts, negative):
    counts |= {1, 3, 7}  # so that no coarser step fits
    unit = Decimal(step).scaleb(-decimals)
    shown = [f"{unit * count * (-1 if negative else 1):.{decimals}f}" for count in sorted(counts)]
    found = measured_readability(shown)
    assert found.step == unit
    assert found.decimals == decimals


def test_a_display_that_counts_by_five_hundredths():
    # By hand: all are multiples of 0.05, and 0.15 and 0.20 leave no coarser step.
    found = measured_readability(["0.05", "0.15", "0.20", "1.00", "7.35", "7.40", "7.55", "9.95"])
    assert (found.step, found.decimals, found.different) == (Decimal("0.05"), 2, 8)


def test_a_last_digit_that_never_moves_is_no_step():
    found = measured_readability([f"{n}.0" for n in range(1, 10)])
    assert (found.step, found.decimals) == (Decimal(1), 1)


def test_too_few_different_values_do_not_tell_a_step():
    with pytest.raises(TooFewValues, match="2 different values were seen; 8 are needed"):
        measured_readability(["0.0", "0.1", "-0.1", "0.2"] * 20)


@pytest.mark.parametrize("text", ["--.-", "", "NaN", "Infinity", "1E+999999", "1E-99"])
def test_what_is_not_a_displayed_number_is_refused(text):
    with pytest.raises(Refused, match="is not a displayed number"):
        measured_readability([text] * 10)


def test_the_rate_is_gaps_over_the_whole_span_even_in_bursts():
    assert update_rate_hz([0, 0.1, 0.2, 0.3]) == pytest.approx(10)
    assert update_rate_hz([0, 0, 1, 1, 2]) == pytest.approx(2)


@pytest.mark.parametrize("times", [(), (0, 1), (1, 1, 1), (0, 2, 1), (0, float("nan"), 1)])
def test_times_that_show_no_rate_are_refused(times):
    with pytest.raises(Refused, match=r"rate|run forward|not a number"):
        update_rate_hz(times)
