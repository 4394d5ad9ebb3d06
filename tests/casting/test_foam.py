"""Foam: what holds for every shot, and what weighed parts teach."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.casting.foam import WeighedPart, free_rise_from_expansion, learned, shot, warnings_of
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


def test_too_little_is_a_short_shot_and_too_much_presses():
    assert "Short shot" in warnings_of(shot(500, 0.1, packing=0.9), low=None, high=None, minimum_fill_g=None)[0]
    own = warnings_of(shot(500, 0.1, packing=1.1), low=1.05, high=1.3, minimum_fill_g=58)
    assert "your own casts" in own[0]
    assert warnings_of(shot(500, 0.1, packing=1.2), low=1.05, high=1.3, minimum_fill_g=58) == ()
    assert "Overpressure" in warnings_of(shot(500, 0.1, packing=1.5), low=1.05, high=1.3, minimum_fill_g=58)[0]


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
