"""Ohm's law, series E12 and RC filters, against values worked by hand and the published series."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.wiring.parts import Buzzer, Contact, Lamp, Sensor, Tone
from station.wiring.resistors import (
    E12,
    charged_after_s,
    current_a,
    next_above,
    next_below,
    series_ohm,
    time_constant_s,
)

OHM = st.floats(0.1, 1e7)


def test_the_series_is_ten_to_the_twelfths_rounded_as_published_in_iec_60063():
    # E12 is 10^(n/12) to two digits; four values are rounded up by tradition: 2.7, 3.3, 3.9, 4.7; one down: 8.2.
    exact = [10 ** (n / 12) for n in range(12)]
    assert max(abs(made / wanted - 1) for made, wanted in zip(E12, exact, strict=True)) < 0.05
    assert E12 == (1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2)


@pytest.mark.parametrize(
    ("supply", "drop", "amperes", "ohm"),
    [(3.3, 2.0, 0.004, 325), (5.0, 2.0, 0.020, 150), (9.0, 0.0, 0.003, 3000), (3.3, 0.7, 0.003, 866.67)],
)
def test_a_resistor_in_series_follows_ohms_law(supply, drop, amperes, ohm):
    assert series_ohm(supply, drop, amperes) == pytest.approx(ohm, rel=1e-4)
    assert current_a(supply, drop, ohm) == pytest.approx(amperes, rel=1e-4)


@pytest.mark.parametrize(("supply", "drop", "amperes"), [(3.3, 3.3, 0.01), (3.3, 3.6, 0.01), (3.3, 2.0, 0.0)])
def test_without_voltage_left_or_without_a_current_there_is_no_resistor(supply, drop, amperes):
    with pytest.raises(ValueError, match="voltage left"):
        series_ohm(supply, drop, amperes)


@pytest.mark.parametrize(
    ("ohm", "above", "below"),
    [(325, 330, 270), (330, 330, 330), (866.7, 1000, 820), (83, 100, 82), (4701, 5600, 4700), (0.9, 1.0, 0.82)],
)
def test_the_next_made_value_above_and_below(ohm, above, below):
    assert (next_above(ohm), next_below(ohm)) == (above, below)


@given(OHM)
def test_between_the_two_neighbours_lies_no_other_made_value(ohm):
    above, below = next_above(ohm), next_below(ohm)
    assert below <= ohm * (1 + 1e-9)
    assert above >= ohm * (1 - 1e-9)
    assert above / below <= 1.251
    made = {f"{value:.1f}" for value in E12}
    for value in (above, below):
        assert f"{value / 10 ** math.floor(math.log10(value) + 1e-9):.1f}" in made


@pytest.mark.parametrize("ohm", [0.0, -5.0, math.inf, math.nan])
def test_no_resistor_is_made_of_nonsense(ohm):
    with pytest.raises(ValueError, match="no such resistor"):
        next_above(ohm)


def test_a_filter_has_gone_63_per_cent_of_its_way_after_its_time_constant():
    assert time_constant_s(11_000, 100e-9) == pytest.approx(1.1e-3)
    assert charged_after_s(11_000, 100e-9, 3.3, 3.3 * (1 - math.exp(-1))) == pytest.approx(1.1e-3)
    assert charged_after_s(1000, 1e-6, 10.0, 5.0) == pytest.approx(0.693147e-3, rel=1e-5)


def test_the_parts_of_the_bench_are_worked_out_as_by_hand():
    assert (Lamp().ohm, Buzzer().ohm, Tone().ohm) == (330, 820, 470)
    assert Lamp().pin_a == pytest.approx(1.3 / 330)
    assert Buzzer().pin_a == pytest.approx(2.6 / 820)
    # At least a tenth of what the buzzer takes goes into the base.
    assert Buzzer().pin_a >= Buzzer().buzzer_a / 10
    assert Contact().rail_a == pytest.approx(0.33e-3)
    assert Contact().read_open_s == pytest.approx(1.1e-3 * math.log(3.3 / 1.3))
    assert Sensor().rail_a == pytest.approx(0.0015 + 3.3 / 4700)
