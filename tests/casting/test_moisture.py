"""Dew point against other published formulas and tables, and what is said about cold molds and damp air."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from iapws.iapws97 import _PSat_T

from station.casting.chemistry import Chemistry
from station.casting.moisture import (
    MARGIN_C,
    chemistry_caution,
    dew_point_c,
    saturation_hpa,
    surface,
    surface_caution,
    urethane_caution,
)
from station.errors import Refused

AIR = st.floats(-10, 50)
PERCENT = st.floats(1, 100)


@pytest.mark.parametrize(
    ("air_c", "percent", "dew_c"),
    [
        # Dew point table of DIN 4108 (protection against moisture in buildings), tenths of a degree; from memory.
        (20, 50, 9.3),
        (20, 60, 12.0),
        (22, 50, 11.1),
        (25, 60, 16.7),
        (30, 70, 23.9),
        (10, 50, 0.1),
    ],
)
def test_the_dew_point_is_that_of_the_builders_table(air_c: float, percent: float, dew_c: float) -> None:
    assert dew_point_c(air_c, percent) == pytest.approx(dew_c, abs=0.1)


@pytest.mark.parametrize("celsius", [0.01, 5, 10, 20, 23, 30, 40, 50])
def test_saturation_agrees_with_the_steam_formulation_within_half_a_percent(celsius: float) -> None:
    """IAPWS-IF97 (2007), equation 30, as the open-source library iapws computes it, in MPa. Pure water, no air."""
    assert saturation_hpa(celsius) == pytest.approx(_PSat_T(celsius + 273.15) * 10_000, rel=0.005)


@pytest.mark.parametrize(("celsius", "hpa"), [(0.0, 6.112), (20.0, 23.39), (30.0, 42.47)])
def test_saturation_agrees_with_the_handbooks_tables(celsius: float, hpa: float) -> None:
    """6.112 hPa is the formula's own constant; the others from steam tables, from memory."""
    assert saturation_hpa(celsius) == pytest.approx(hpa, rel=0.005)


@given(AIR, PERCENT)
def test_air_at_its_dew_point_is_full(air_c: float, percent: float) -> None:
    dew = dew_point_c(air_c, percent)
    assume(dew >= -45)
    assert dew <= air_c + 1e-9
    assert saturation_hpa(dew) == pytest.approx(percent / 100 * saturation_hpa(air_c), rel=1e-9)


@given(AIR, PERCENT, PERCENT)
def test_damper_air_has_a_higher_dew_point(air_c: float, one: float, other: float) -> None:
    assume(abs(one - other) > 1e-6)
    low, high = sorted((one, other))
    assert dew_point_c(air_c, low) < dew_point_c(air_c, high)


@given(st.floats(0, 50), st.floats(20, 100), st.floats(-10, 50))
def test_a_surface_is_wet_just_when_the_air_at_it_is_full(air_c: float, percent: float, mold_c: float) -> None:
    found = surface("mold", mold_c, air_c, percent)
    assume(abs(found.above_k) > 1e-9)
    assert found.wet == (percent * saturation_hpa(air_c) / saturation_hpa(mold_c) > 100)
    assert found.wet == (found.percent == 100)
    assert (found.wet or found.near) == bool(surface_caution(found))


def test_a_mold_from_a_cold_store_is_warmed_to_a_temperature_that_is_named() -> None:
    found = surface("mold", 8.0, 22.0, 60.0)  # dew point 13.9 °C by the same table
    said = surface_caution(found)
    assert "The mold at 8.0 °C is 5.9 °C below the dew point: water condenses on it." in said
    assert "Warm it to 16.9 °C" in said
    assert surface_caution(surface("mold", 16.95, 22.0, 60.0)) == ""


def test_a_mold_just_above_the_dew_point_is_warned_about_too() -> None:
    dew = dew_point_c(22.0, 60.0)
    assert "only 1.0 °C above the dew point" in surface_caution(surface("mold", dew + 1.0, 22.0, 60.0))
    assert surface("mold", dew + MARGIN_C + 0.01, 22.0, 60.0).near is False


def test_urethanes_are_warned_about_from_sixty_percent_and_more_sternly_above_sixty_five() -> None:
    """Common practice, no source."""
    assert urethane_caution(59.9) == ""
    assert "make a small trial first" in urethane_caution(60.0)
    assert "bubble" in urethane_caution(65.1)
    assert "68 %" in urethane_caution(68.0)


@pytest.mark.parametrize(
    ("chemistry", "percent", "word"),
    [
        (Chemistry.URETHANE_FOAM, 80, "bubble"),
        (Chemistry.URETHANE_RUBBER, 80, "bubble"),
        (Chemistry.CONDENSATION_SILICONE, 80, "skins first"),
        (Chemistry.CONDENSATION_SILICONE, 20, "cures slowly"),
    ],
)
def test_each_chemistry_has_its_own_caution(chemistry: Chemistry, percent: float, word: str) -> None:
    assert word in chemistry_caution(chemistry, percent)


@pytest.mark.parametrize("percent", [10, 50, 95])
def test_an_addition_cure_silicone_hardly_cares(percent: float) -> None:
    assert chemistry_caution(Chemistry.ADDITION_SILICONE, percent) == ""
    assert chemistry_caution(Chemistry.OTHER, percent) == ""


@pytest.mark.parametrize(
    ("air_c", "percent"), [(61, 50), (-46, 50), (20, 0), (20, 101), (math.nan, 50), (20, math.nan), (math.inf, 50)]
)
def test_air_that_cannot_be_is_refused_in_a_sentence(air_c: float, percent: float) -> None:
    with pytest.raises(Refused) as refusal:
        dew_point_c(air_c, percent)
    assert refusal.value.sentence().endswith(".")
