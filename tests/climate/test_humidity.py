"""The humidity sensor as the kernel shows it."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from station.climate.faults import NoSensor, OutsideWorkshop, SensorGone, SeveralSensors
from station.climate.humidity import HUMIDITY, TEMPERATURE, HumiditySensor
from station.simulated.climate_files import ClimateFiles
from tests.climate.told import fit, told


@pytest.fixture
def files(tmp_path: Path) -> ClimateFiles:
    return ClimateFiles(tmp_path)


def test_humidity_and_its_own_temperature_are_read_in_thousandths(files: ClimateFiles) -> None:
    files.humidity(48.25, 22.1)
    sensor = HumiditySensor(files.devices)
    assert (sensor.look(), sensor.look_at_temperature()) == (48.25, 22.1)


def test_a_device_without_humidity_is_passed_over_and_two_with_it_are_told(files: ClimateFiles) -> None:
    (files.devices / "iio:device0").mkdir()
    files.humidity(48.0, device=1)
    assert HumiditySensor(files.devices).look() == 48.0
    files.humidity(51.0, device=2)
    with pytest.raises(SeveralSensors, match="iio:device1, iio:device2"):
        HumiditySensor(files.devices).look()


def test_none_at_all_and_none_with_a_temperature_are_no_sensor(files: ClimateFiles, tmp_path: Path) -> None:
    for folder in (files.devices, tmp_path / "nowhere"):
        with pytest.raises(NoSensor):
            HumiditySensor(folder).look()
    files.humidity(48.0)
    with pytest.raises(NoSensor, match="tells no temperature"):
        HumiditySensor(files.devices).look_at_temperature()


@pytest.mark.parametrize("percent", [0.0, -3.0, 100.1, 150.0])
def test_a_humidity_that_no_air_has_is_refused(files: ClimateFiles, percent: float) -> None:
    files.humidity(percent)
    with pytest.raises(OutsideWorkshop, match="air has 1 to 100 %"):
        HumiditySensor(files.devices).look()


def test_an_empty_file_means_that_the_sensor_is_off(files: ClimateFiles) -> None:
    files.humidity(48.0)
    (files.devices / "iio:device0" / HUMIDITY).write_bytes(b"\n")
    with pytest.raises(SensorGone, match="The humidity sensor does not answer"):
        HumiditySensor(files.devices).look()


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(content=st.binary(max_size=600), warmth=st.binary(max_size=20))
def test_no_content_ends_in_anything_but_a_reading_or_a_sentence(tmp_path: Path, content: bytes, warmth: bytes) -> None:
    files = ClimateFiles(tmp_path)
    files.humidity(50.0, 20.0)
    (files.devices / "iio:device0" / HUMIDITY).write_bytes(content)
    (files.devices / "iio:device0" / TEMPERATURE).write_bytes(warmth)
    sensor = HumiditySensor(files.devices)
    assert fit(told(sensor.look), 1, 100)
    assert fit(told(sensor.look_at_temperature), -20, 60)
