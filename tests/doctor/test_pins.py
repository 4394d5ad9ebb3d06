"""The pins: there, to be used, and shared with nothing."""

import pytest

from station.doctor.checks import pins
from station.doctor.finding import Verdict
from station.doctor.life import Life
from tests.doctor.ward import NOBODY, STRANGER, only, verdicts

PI = "Raspberry Pi 4 Model B Rev 1.4\0"


def with_library(patient):
    return pins.pins(patient, lambda: True)


def test_a_machine_without_pins_is_said_to_be_one(ward):
    found = only(pins.pins, ward.patient())
    assert found.verdict is Verdict.LOOK
    assert "This machine has no GPIO" in found.told


def test_a_board_that_ought_to_have_pins_fails_without(ward):
    ward.put("/proc/device-tree/model", PI)
    assert only(pins.pins, ward.patient()).verdict is Verdict.FAIL


def test_without_the_library_a_board_fails_and_a_desk_needs_a_look(ward):
    ward.put("/dev/gpiochip0")
    assert verdicts(pins.pins(ward.patient(), lambda: False)) == [Verdict.LOOK]
    ward.put("/proc/device-tree/model", PI)
    (found,) = pins.pins(ward.patient(), lambda: False)
    assert found.verdict is Verdict.FAIL
    assert "python3-lgpio" in found.cure


def test_pins_that_the_service_may_not_use_fail(ward):
    chip = ward.put("/dev/gpiochip0")
    chip.chmod(0o660)
    assert only(with_library, ward.patient()).verdict is Verdict.PASS
    found = only(with_library, ward.patient(owner=NOBODY))
    assert found.verdict is Verdict.FAIL
    assert "usermod -aG" in found.cure


def test_another_program_at_the_pins_is_named(ward):
    ward.process(STRANGER, "blinker", ward.put("/dev/gpiochip0"))
    for life in (Life.STOPPED, Life.RUNS):
        found = only(with_library, ward.patient(life))
        assert found.verdict is Verdict.LOOK
        assert "blinker (process 4711)" in found.told


@pytest.mark.parametrize(
    ("file", "signals", "said"),
    [
        ("/dev/i2c-1", "buzzer = 2", "buzzer sits on GPIO 2, which I2C"),
        ("/dev/serial0", "pedal = 15", "pedal sits on GPIO 15, which UART"),
        ("/dev/spidev0.0", "lamp_busy = 9", "lamp_busy sits on GPIO 9, which SPI"),
        ("/sys/bus/w1/devices/w1_bus_master1", "button = 4", "button sits on GPIO 4, which 1-Wire"),
    ],
)
def test_a_part_on_a_pin_that_something_else_has_needs_a_look(ward, file, signals, said):
    ward.settings(f"[signals]\n{signals}\n")
    assert not [one for one in pins.pin_conflicts(ward.patient()) if said in one.told]
    ward.put(file)
    found = list(pins.pin_conflicts(ward.patient()))
    assert [one.verdict for one in found if said in one.told] == [Verdict.LOOK]
    assert not [one for one in found if "may belong to" in one.told]  # what is certain is not also doubted


def test_a_part_that_may_sound_while_the_board_starts_needs_a_look(ward):
    ward.settings("[signals]\nbuzzer = 6\n")
    found = only(pins.pin_conflicts, ward.patient())
    assert found.verdict is Verdict.LOOK
    assert "pulled up while the Pi starts" in found.told
    assert "tarebell wiring" in found.cure


def test_what_is_switched_on_elsewhere_is_no_conflict(ward):
    for file in ("/dev/i2c-1", "/dev/serial0", "/dev/spidev0.0", "/sys/bus/w1/devices/w1_bus_master1"):
        ward.put(file)
    assert verdicts(pins.pin_conflicts(ward.patient())) == [Verdict.PASS]
