"""Pins: the header as it is published, and what is said of pins that are badly chosen."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from station.config import ClimateSettings, SignalSettings
from station.settings import read_settings
from station.wiring.budget import LOGIC_A, PIN_A, budget
from station.wiring.findings import Owned, PulledUp, Shared, findings
from station.wiring.header import HEADER, Carries, Owner, Pull, owner_of, pin_of, pull_at_boot
from station.wiring.parts import Lamp
from station.wiring.plan import KINDS, Role, planned
from station.wiring.table import lines

EXAMPLE = Path(__file__).resolve().parents[2] / "station" / "examples" / "station.toml"
NO_SENSOR = ClimateSettings("none")
PLAIN = SignalSettings()


def test_the_header_has_each_gpio_once_and_its_rails_where_they_are_published():
    assert sorted(pin.gpio for pin in HEADER if pin.gpio is not None) == list(range(28))
    grounds = [pin.number for pin in HEADER if pin.carries is Carries.GROUND]
    assert grounds == [6, 9, 14, 20, 25, 30, 34, 39]
    assert [pin.number for pin in HEADER if pin.carries is Carries.V3] == [1, 17]
    assert [pin.number for pin in HEADER if pin.carries is Carries.V5] == [2, 4]


@pytest.mark.parametrize(
    ("gpio", "number"), [(0, 27), (1, 28), (2, 3), (4, 7), (5, 29), (14, 8), (17, 11), (21, 40), (26, 37), (27, 13)]
)
def test_a_gpio_is_where_the_published_pinout_has_it(gpio, number):
    assert pin_of(gpio).number == number


def test_a_gpio_that_is_not_on_the_header_is_refused():
    with pytest.raises(ValueError, match="GPIO 28 is not on the header"):
        pin_of(28)


def test_pulls_at_boot_are_those_of_the_data_sheet():
    assert [gpio for gpio in range(28) if pull_at_boot(gpio) is Pull.UP] == list(range(9))


def test_the_pins_of_the_example_settings_are_well_chosen():
    settings = read_settings(EXAMPLE)
    plan = planned(settings.signals, settings.climate)
    assert findings(plan) == ()
    assert len(plan.connections) == 7
    # What sounds or shines lies on pins that are pulled low until the station drives them.
    moved = (PLAIN.buzzer, PLAIN.lamp_ready, PLAIN.lamp_busy, PLAIN.lamp_attention)
    assert all(pin is not None and pull_at_boot(pin) is Pull.DOWN for pin in moved)


@pytest.mark.parametrize("key", ["buzzer", "tone", "lamp_ready", "lamp_busy", "lamp_attention"])
def test_what_sounds_or_shines_on_a_pin_that_is_pulled_up_at_boot_is_said(key):
    plan = planned(replace(PLAIN, **{key: 6}), NO_SENSOR)
    [found] = findings(plan)
    assert isinstance(found, PulledUp)
    assert "GPIO 6 (pin 31) is pulled up while the Pi starts" in found.words()
    assert all(pull_at_boot(gpio) is Pull.DOWN and owner_of(gpio) is None for gpio in found.free)
    assert found.free


@pytest.mark.parametrize("key", ["pedal", "button"])
def test_a_contact_may_be_on_such_a_pin(key):
    assert findings(planned(replace(PLAIN, **{key: 6}), NO_SENSOR)) == ()


@pytest.mark.parametrize(
    ("gpio", "owner"),
    [
        (0, Owner.BOARD_ID),
        (1, Owner.BOARD_ID),
        (2, Owner.I2C),
        (3, Owner.I2C),
        (4, Owner.ONE_WIRE),
        (7, Owner.SPI),
        (11, Owner.SPI),
        (14, Owner.UART),
        (15, Owner.UART),
    ],
)
def test_a_pin_that_something_else_may_own_is_said_with_its_owner(gpio, owner):
    [found] = findings(planned(replace(PLAIN, pedal=gpio), ClimateSettings()))
    assert isinstance(found, Owned)
    assert found.owner is owner
    assert f"pedal: GPIO {gpio} " in found.words()
    assert gpio not in found.free


@pytest.mark.parametrize("gpio", [5, 6, 12, 13, 16, 18, 19, 20, 21, 25, 26, 27])
def test_of_any_other_pin_nothing_is_said(gpio):
    assert findings(planned(replace(PLAIN, pedal=gpio, button=None), ClimateSettings())) == ()


def test_a_named_sensor_and_a_part_cannot_share_a_pin_and_a_sensor_that_is_only_looked_for_gives_way():
    on_four = replace(PLAIN, button=4)
    found = findings(planned(on_four, ClimateSettings("28-0316a2795cff")))
    assert found[0] == Shared(4, (Role.BUTTON, Role.SENSOR))
    assert "GPIO 4 is given to more than one part: button, temperature sensor" in found[0].words()
    looked_for = planned(on_four, ClimateSettings("found"))
    assert Role.SENSOR not in [one.role for one in looked_for.connections]
    assert [type(one) for one in findings(looked_for)] == [Owned]


def test_all_parts_together_take_less_than_the_pins_may_give():
    taken = budget(planned(replace(PLAIN, tone=12), ClimateSettings()))
    by_hand = 2.6 / 820 + 3.3 / 470 + 3 * 1.3 / 330 + 2 * 3.3e-4 + 0.0015 + 3.3 / 4700
    assert taken.logic_a == pytest.approx(by_hand)
    assert taken.rail5_a == pytest.approx(0.03)
    assert taken.fits


def test_lamps_that_take_too_much_are_found():
    bright = {**KINDS, Role.LAMP_READY: Lamp(wanted_a=0.02)}
    plan = planned(PLAIN, NO_SENSOR, bright)
    assert budget(plan).too_much == (plan.connections[1],)
    assert not budget(plan).fits
    assert any('lamp "something to do" would' in line for line in lines(plan))
    many = dict.fromkeys((Role.LAMP_READY, Role.LAMP_BUSY, Role.LAMP_ATTENTION), Lamp(wanted_a=0.0155))
    together = budget(planned(PLAIN, NO_SENSOR, {**KINDS, **many}))
    assert together.too_much == ()
    assert together.logic_a < LOGIC_A
    assert all(taken <= PIN_A for _, taken in together.pins)


def test_the_table_ends_with_what_is_wrong():
    assert "is pulled up" in lines(planned(replace(PLAIN, buzzer=5, button=None), NO_SENSOR))[-1]
    assert "No pin may give more" in lines(planned(PLAIN, NO_SENSOR))[-1]


def test_settings_without_any_part_are_told_that_there_is_nothing_to_wire():
    bare = planned(SignalSettings(None, None, None, None, None, None, None), NO_SENSOR)
    assert lines(bare) == ["The settings name no buzzer, lamp, pedal, button or sensor, so there is nothing to wire."]
