"""Pot life against mass: the sheet's table is met, read between its points, and never left."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.casting.potlife import of_mass

BY_MASS = ((100.0, 900.0), (500.0, 660.0), (1000.0, 510.0))


@given(st.floats(1, 5000), st.floats(1, 5000))
def test_more_mass_never_lives_longer(one, other):
    small, large = sorted((one, other))
    assert of_mass(large, 900, 100, BY_MASS).seconds <= of_mass(small, 900, 100, BY_MASS).seconds + 1e-9


def test_the_table_is_met_and_never_left():
    for mass, seconds in BY_MASS:
        assert of_mass(mass, 900, 100, BY_MASS).seconds == pytest.approx(seconds)
    beyond = of_mass(2000, 900, 100, BY_MASS)
    assert beyond.seconds == 510
    assert not beyond.sure
    assert "ends at 1000 g" in beyond.words


def test_between_two_masses_it_is_straight_on_logarithms():
    assert of_mass(223.6068, 900, 100, BY_MASS).seconds == pytest.approx((900 * 660) ** 0.5, rel=1e-5)


def test_without_a_table_the_sheet_s_mass_is_said():
    far = of_mass(900, 1200, 100, ())
    assert (far.seconds, far.sure) == (1200, False)
    assert "valid for 100 g; yours is 900 g" in far.words
    assert of_mass(105, 1200, 100, ()).sure
    assert not of_mass(900, 1200, None, ()).sure
    assert "does not say for what mass" in of_mass(900, 1200, None, ()).words


@given(st.floats(1, 5000))
def test_no_pot_life_lies_outside_the_table(mass):
    assert 510 - 1e-9 <= of_mass(mass, 900, 100, BY_MASS).seconds <= 900 + 1e-9


def test_of_two_times_for_one_mass_the_shorter_counts_on_both_sides_of_it():
    twice = ((100.0, 720.0), (500.0, 480.0))
    for mass in (50, 100, 100.001):
        assert of_mass(mass, 900, 100, twice).seconds == pytest.approx(720, rel=1e-4)
    assert of_mass(300, 900, 100, twice) == of_mass(300, 720, 100, twice)


@pytest.mark.parametrize(
    ("mass", "stated_s", "stated_g", "table"),
    [
        (0, 900, None, ()),
        (100, 0, None, ()),
        (100, 900, 0, ()),
        (100, 900, None, ((0, 900), (500, 600))),
        (100, 900, None, ((100, 900), (500, -600))),
        (float("nan"), 900, None, ()),
    ],
)
def test_masses_and_times_not_above_zero_are_refused(mass, stated_s, stated_g, table):
    with pytest.raises(ValueError, match="Give masses and times above zero"):
        of_mass(mass, stated_s, stated_g, table)
