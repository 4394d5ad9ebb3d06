"""Foam: what holds for every shot, and what weighed parts teach."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.casting.foam import WeighedPart, free_rise_from_expansion, if_multiplied, learned, shot, shot_for
from station.casting.foam_practice import FoamSort, warnings_of
from station.errors import Refused

VOLUMES = st.floats(1, 50_000)
DENSITIES = st.floats(0.02, 0.6)
PACKINGS = st.floats(0.8, 4)
LOSSES = st.floats(0, 40)


@given(VOLUMES, DENSITIES, PACKINGS, LOSSES)
def test_what_is_mixed_is_what_is_in_the_mold_and_what_stays_behind(volume, density, packing, loss):
    made = shot(volume, density, packing=packing, loss_percent=loss)
    assert made.mixed_g * (1 - loss / 100) == pytest.approx(made.part_g)
    assert made.part_g / volume == pytest.approx(made.molded)
    assert made.free_rise_cm3 == pytest.approx(volume * packing)


@given(VOLUMES, VOLUMES, DENSITIES, DENSITIES)
def test_more_room_or_denser_foam_takes_more(one, other, thin, dense):
    small, large = sorted((one, other))
    light, heavy = sorted((thin, dense))
    assert shot(small, light).mixed_g <= shot(large, light).mixed_g
    assert shot(small, light).mixed_g <= shot(small, heavy).mixed_g


@given(st.floats(0.8, 1.4), st.floats(1, 40), VOLUMES)
def test_the_liquid_times_its_expansion_is_the_cavity(liquid, expansion, cavity):
    made = shot(cavity, free_rise_from_expansion(liquid, expansion))
    assert made.liquid_cm3(liquid) * expansion == pytest.approx(cavity)


FLEXIBLE, RIGID, SKINNED = FoamSort.FLEXIBLE, FoamSort.RIGID, FoamSort.SKINNED


def test_too_little_is_a_short_shot():
    assert "Short shot: left alone" in warnings_of(shot(500, 0.1, packing=0.9), FLEXIBLE)[0]
    (own,) = warnings_of(shot(500, 0.1, packing=1.1), FLEXIBLE, low=1.05, high=1.3, minimum_fill_g=58)
    assert own.startswith("Short shot: 55.0 g go into the mold, and your own casts say that it takes 58.0 g")
    assert "corners" in warnings_of(shot(500, 0.1, packing=1.02), FLEXIBLE)[0]
    assert "Short shot" in warnings_of(shot_for(500, 0.1), FLEXIBLE, minimum_fill_g=58)[0]


def test_what_fills_and_does_not_press_is_not_warned_about():
    assert warnings_of(shot(500, 0.1, packing=1.2), FLEXIBLE, low=1.05, high=1.3, minimum_fill_g=58) == ()
    assert warnings_of(shot(500, 0.1, packing=1.44), RIGID) == ()
    assert warnings_of(shot(500, 0.1, packing=2.5), SKINNED) == ()
    assert warnings_of(shot_for(500, 0.1), FLEXIBLE) == ()


def test_too_much_presses_by_the_packing_factor_or_by_the_fill():
    assert "Overpressure" in warnings_of(shot(500, 0.1, packing=1.5), FLEXIBLE)[0]
    assert "its sheet's range" in warnings_of(shot(500, 0.1, packing=1.3), FLEXIBLE, high=1.25)[0]
    (said,) = warnings_of(shot_for(500, 0.14), FLEXIBLE, minimum_fill_g=58)
    assert "121 % of the 58.0 g" in said


@given(VOLUMES, DENSITIES, LOSSES)
def test_a_shot_by_its_molded_density_alone_weighs_the_same_and_tells_no_packing(volume, density, loss):
    made = shot_for(volume, density * 1.2, loss_percent=loss)
    assert made.mixed_g == pytest.approx(shot(volume, density, packing=1.2, loss_percent=loss).mixed_g)
    assert (made.packing, made.free_rise_cm3) == (None, None)


def test_the_explanation_never_writes_an_exponent():
    assert "3600 times" in if_multiplied(1_000_000, 1.1, 60)
    assert "e+" not in if_multiplied(1_000_000, 1.1, 60)


def test_weighed_parts_teach_loss_density_and_the_least_fill():
    parts = (WeighedPart(100, 95, 800), WeighedPart(100, 93, 800), WeighedPart(90, 84, 800, full=False))
    found = learned(parts)
    assert found.count == 3
    assert found.loss_percent == pytest.approx((5 + 7 + 100 * 6 / 90) / 3)
    assert found.molded == pytest.approx((95 + 93 + 84) / 3 / 800)
    assert found.minimum_fill == pytest.approx(93 / 800)
    assert learned(parts[:1]).loss_spread is None


@pytest.mark.parametrize("parts", [(), (WeighedPart(50, 60, 100),), (WeighedPart(50, 40, 0),)])
def test_parts_that_cannot_be_are_refused(parts):
    with pytest.raises(Refused):
        learned(parts)


def test_values_that_cannot_be_are_refused():
    for wrong in (lambda: shot(0, 0.1), lambda: shot(10, -1), lambda: shot(10, 0.1, loss_percent=95)):
        with pytest.raises(Refused):
            wrong()
    with pytest.raises(Refused):
        free_rise_from_expansion(1.1, 0.5)
