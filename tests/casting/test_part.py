"""Figures of a part against definitions and worked examples from outside the project."""

from __future__ import annotations

from statistics import StatisticsError

import pytest
from uncertainties import ufloat

from station.casting.part import Lengths, doubtful, hardness, molded_density, packing_factor


def test_shrinkage_is_reckoned_from_the_mold() -> None:
    """ISO 294-4 and ASTM D955: (mold − part) ÷ mold. A bar of 127.00 mm in the mold and 126.37 mm out of it, as such
    sheets give 0.005 in/in for many thermoplastics (worked by hand, no source for the pair)."""
    assert Lengths(127.0, 126.37).shrinkage_percent == pytest.approx(0.496, abs=5e-4)
    assert Lengths(100.0, 100.5).shrinkage_percent == pytest.approx(-0.5)


def test_density_is_mass_by_volume() -> None:
    """ISO 845: apparent density of a cellular material is its mass by its volume; a cube of 50 mm that weighs 4.0 g has
    32 kg/m³ (worked by hand)."""
    assert molded_density(4.0, 5.0**3) == pytest.approx(0.032)


def test_packing_factor_is_molded_by_free_rise_density() -> None:
    assert packing_factor(0.403, 0.35) == pytest.approx(1.1514, abs=1e-4)


def test_density_carries_the_uncertainty_of_mass_and_volume() -> None:
    """GUM (JCGM 100:2008, 5.1.6): relative variances of a quotient add; reckoned by an independent hand."""
    density = ufloat(62.4, 0.1) / ufloat(155.0, 1.0)
    assert molded_density(62.4, 155.0) == pytest.approx(density.nominal_value)
    assert density.std_dev / density.nominal_value == pytest.approx(((0.1 / 62.4) ** 2 + (1 / 155) ** 2) ** 0.5)


@pytest.mark.parametrize(
    ("values", "median"),
    [((28.0,), 28.0), ((27.0, 35.0, 28.0), 28.0), ((41, 43, 42, 44, 60), 43), ((20.0, 30.0), 25.0)],
)
def test_hardness_is_the_median_so_that_one_slip_of_the_hand_does_not_count(
    values: tuple[float, ...], median: float
) -> None:
    """ISO 48-4 takes the median of five readings (from memory)."""
    assert hardness(values) == median


def test_no_reading_has_no_hardness() -> None:
    with pytest.raises(StatisticsError):
        hardness(())


@pytest.mark.parametrize(
    ("value", "is_doubtful"), [(19.5, True), (20.0, False), (55.0, False), (90.0, False), (90.5, True)]
)
def test_the_ends_of_a_scale_tell_little(value: float, is_doubtful: bool) -> None:
    """ISO 48-4 advises another durometer below 20 and above 90 (from memory)."""
    assert doubtful(value) is is_doubtful
