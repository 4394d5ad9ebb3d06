"""The one-wire sensor as the kernel shows it: readings, and each fault in its own sentence."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from station.climate.faults import (
    GarbledReading,
    Nonsense,
    NoSensor,
    OutsideWorkshop,
    PowerOnValue,
    SensorFault,
    SensorGone,
    SeveralSensors,
)
from station.climate.one_wire import OneWire
from station.simulated.climate_files import SENSOR, ClimateFiles
from tests.climate.told import fit, told

OTHER = "28-0417c3d2aaff"


@pytest.fixture
def files(tmp_path: Path) -> ClimateFiles:
    return ClimateFiles(tmp_path)


def fault_of(sensor: OneWire, kind: type[SensorFault]) -> str:
    with pytest.raises(kind) as fault:
        sensor.look()
    said = fault.value.sentence()
    assert said.endswith(".")
    assert fault.value.hint
    return said


@pytest.mark.parametrize("celsius", [21.437, 0.0, -12.5, 60.0, -20.0])
def test_the_only_sensor_is_found_and_read_in_thousandths(files: ClimateFiles, celsius: float) -> None:
    files.celsius(celsius)
    assert OneWire(bus=files.bus).look() == celsius


def test_a_kernel_without_the_newer_file_is_read_by_the_older_one(files: ClimateFiles) -> None:
    """Layout of w1_slave: constructed from the kernel's documentation of w1_therm (nine bytes, check, t=)."""
    files.older_kernel(21.312)
    assert OneWire(bus=files.bus).look() == 21.312
    files.older_kernel(-0.062)
    assert OneWire(bus=files.bus).look() == -0.062


def test_check_digits_that_do_not_match_make_the_number_worthless(files: ClimateFiles) -> None:
    files.older_kernel(21.312, matches=False)
    assert "pull-up" in fault_of(OneWire(bus=files.bus), GarbledReading)


def test_no_bus_no_sensor_and_ghosts_are_three_different_sentences(files: ClimateFiles, tmp_path: Path) -> None:
    none = fault_of(OneWire(bus=files.bus), NoSensor)
    no_bus = fault_of(OneWire(bus=tmp_path / "nowhere"), NoSensor)
    files.ghost()
    ghosts = fault_of(OneWire(bus=files.bus), NoSensor)
    assert "dtoverlay=w1-gpio" in no_bus
    assert "pull-up resistor between data and 3.3 V is missing" in ghosts
    assert len({none, no_bus, ghosts}) == 3


def test_of_several_sensors_none_is_guessed_and_the_settings_name_one(files: ClimateFiles) -> None:
    files.celsius(21.0)
    files.celsius(4.0, OTHER)
    said = fault_of(OneWire(bus=files.bus), SeveralSensors)
    assert SENSOR in said
    assert OTHER in said
    assert OneWire(OTHER, files.bus).look() == 4.0


def test_a_named_sensor_that_is_not_there_is_missed_and_what_is_there_is_listed(files: ClimateFiles) -> None:
    files.celsius(21.0)
    said = fault_of(OneWire(OTHER, files.bus), NoSensor)
    assert f"The sensor {OTHER} of the settings is not on the one-wire bus. The bus lists {SENSOR}." in said


def test_an_empty_file_means_that_the_sensor_is_off(files: ClimateFiles) -> None:
    files.silent()
    assert "its file is empty" in fault_of(OneWire(bus=files.bus), SensorGone)


def test_an_input_output_error_of_the_kernel_means_that_the_sensor_is_off(files: ClimateFiles) -> None:
    files.silent()
    place = files.bus / SENSOR / "temperature"
    place.unlink()
    place.symlink_to("/proc/self/mem")  # reading its first byte is EIO, as the driver gives it
    assert "does not answer (Input/output error)" in fault_of(OneWire(bus=files.bus), SensorGone)


def test_a_listed_sensor_without_any_file_is_gone(files: ClimateFiles) -> None:
    (files.bus / SENSOR).mkdir()
    assert "no file to read it" in fault_of(OneWire(bus=files.bus), SensorGone)


def test_the_value_after_a_failed_supply_is_refused_by_its_own_name(files: ClimateFiles) -> None:
    files.supply_failed()
    assert "after its supply failed" in fault_of(OneWire(bus=files.bus), PowerOnValue)


@pytest.mark.parametrize("celsius", [60.001, -20.001, 127.9, 84.999, -55.0])
def test_a_temperature_that_no_workshop_has_is_refused(files: ClimateFiles, celsius: float) -> None:
    files.celsius(celsius)
    assert "a workshop has -20 to 60 °C" in fault_of(OneWire(bus=files.bus), OutsideWorkshop)


@pytest.mark.parametrize("content", [b"warm", b"21.437", b"t=21437", b"\xff\xfe", b"2" * 4000, b"1e4", "２１".encode()])
def test_what_is_no_whole_number_is_no_reading(files: ClimateFiles, content: bytes) -> None:
    files.says(content)
    fault_of(OneWire(bus=files.bus), Nonsense)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(content=st.binary(max_size=600) | st.from_regex(rb"[+-]?[0-9]{1,8}\n?", fullmatch=True), old=st.booleans())
def test_no_content_of_a_file_ends_in_anything_but_a_reading_or_a_sentence(
    tmp_path: Path, content: bytes, old: bool
) -> None:
    files = ClimateFiles(tmp_path)
    files.unplugged()
    files.says(content, file="w1_slave" if old else "temperature")
    assert fit(told(OneWire(bus=files.bus).look), -20, 60)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    flags=st.sampled_from(["YES", "NO", "yes", ""]), thousandths=st.integers(-99_999, 99_999), cut=st.integers(0, 80)
)
def test_an_older_kernel_s_two_lines_are_read_whole_or_not_at_all(
    tmp_path: Path, flags: str, thousandths: int, cut: int
) -> None:
    files = ClimateFiles(tmp_path)
    octets = "50 05 4b 46 7f ff 0c 10 1c"
    lines = f"{octets} : crc=1c {flags}\n{octets} t={thousandths}"
    files.says(lines[cut:].encode(), file="w1_slave")
    answer = told(OneWire(bus=files.bus).look)
    assert fit(answer, -20, 60)
    if cut == 0 and flags == "YES" and -20_000 <= thousandths <= 60_000:
        assert answer == thousandths / 1000
    else:
        assert isinstance(answer, str)
