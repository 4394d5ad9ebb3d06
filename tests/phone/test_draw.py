"""The column rises with what is in the cup, and its band never moves."""

from hypothesis import given
from hypothesis import strategies as st

from station.core.mass import Mass
from station.phone.draw import BAND_HIGH, BAND_LOW, BREAK, arc, column_height, stretched_from

# From 10 mg on nine tenths of the lower edge is another whole number of milligrams.
BANDS = st.tuples(st.integers(10, 3_000_000), st.integers(0, 200_000)).map(lambda b: (Mass(b[0]), Mass(b[0] + b[1])))


@given(BANDS, st.integers(-10_000, 4_000_000), st.integers(0, 4_000_000))
def test_more_in_the_cup_is_never_lower_on_the_page(band, mg, more):
    low, high = band
    below, above = column_height(Mass(mg), low, high), column_height(Mass(mg + more), low, high)
    assert 0.0 <= below <= above <= 100.0


@given(BANDS, st.integers(0, 4_000_000))
def test_the_fill_stands_in_the_drawn_band_exactly_when_the_mass_is_in_the_window(band, mg):
    low, high = band
    height = column_height(Mass(mg), low, high)
    if low.mg < high.mg:
        assert (low.mg <= mg <= high.mg) == (BAND_LOW - 1e-9 <= height <= BAND_HIGH + 1e-9)


def test_the_break_lies_where_nine_tenths_of_the_lower_edge_are_reached():
    low, high = Mass.grams("106.9"), Mass.grams("109.1")
    assert stretched_from(low) == Mass.grams("96.21")
    assert column_height(stretched_from(low), low, high) == BREAK


def test_a_dial_fills_from_empty_to_full_and_no_further():
    assert (arc(-1), arc(0.0), arc(0.25), arc(7.0)) == ("0.0 200", "0.0 200", "25.0 200", "100.0 200")
