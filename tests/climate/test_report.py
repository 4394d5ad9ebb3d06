"""One look at the sensors: for `tarebell climate` and for whoever sets a station up."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from station.climate.report import climate_words, look_once
from station.climate_cli import climate
from station.config import ClimateSettings
from station.simulated.climate_files import SENSOR, ClimateFiles

LEAST = 'state_dir = "state"\n[scale]\nport = "/dev/ttyUSB0"\nfamily = "status-commas"\n'


@pytest.fixture
def files(tmp_path: Path) -> ClimateFiles:
    return ClimateFiles(tmp_path)


def words(files: ClimateFiles, settings: ClimateSettings, typed_c: float | None = None) -> tuple[str, ...]:
    return climate_words(settings, typed_c, bus=files.bus, devices=files.devices)


def test_what_the_sensors_say_comes_first_and_troubles_after_it(files: ClimateFiles) -> None:
    files.celsius(21.437)
    files.humidity(48.2, 23.0)
    assert words(files, ClimateSettings(), 20.0) == (
        "Temperature: 21.4 °C, from the temperature sensor.",
        "Humidity: 48 %.",
    )
    files.unplugged()
    said = words(files, ClimateSettings(), 20.0)
    assert said[:2] == ("Temperature: 23.0 °C, from the humidity sensor.", "Humidity: 48 %.")
    assert "No temperature sensor answers" in said[2]
    files.no_humidity()
    assert words(files, ClimateSettings(), 20.0)[0] == "Temperature: 20.0 °C, from the settings."
    assert words(files, ClimateSettings("none"), None) == ("Temperature: not known.",)


def test_a_humidity_sensor_that_is_off_is_told_and_one_that_is_not_there_is_not(files: ClimateFiles) -> None:
    files.celsius(21.0)
    assert words(files, ClimateSettings()) == ("Temperature: 21.0 °C, from the temperature sensor.",)
    files.humidity(120.0)
    assert "The humidity sensor shows 120.0 %" in words(files, ClimateSettings())[1]
    assert len(words(files, ClimateSettings(humidity=False))) == 1


def test_what_counts_is_in_the_order_of_the_watch(files: ClimateFiles) -> None:
    files.celsius(21.0)
    files.humidity(48.0, 23.0)
    report = look_once(ClimateSettings(), 20.0, bus=files.bus, devices=files.devices)
    assert (report.sensors, report.counts_c) == ((SENSOR,), 21.0)
    by_hand = look_once(ClimateSettings("none"), 20.0, bus=files.bus, devices=files.devices)
    assert (by_hand.celsius, by_hand.at_humidity_sensor_c, by_hand.counts_c) == (None, None, 20.0)


def test_the_command_says_the_same_for_people_and_for_programs(tmp_path: Path) -> None:
    place = tmp_path / "station.toml"
    place.write_text('temperature = "19.5 °C"\n' + LEAST + '[climate]\nsensor = "none"\nhumidity = false\n', "utf-8")
    plain = CliRunner().invoke(climate, ["--config", str(place)])
    assert (plain.exit_code, plain.output) == (0, "Temperature: 19.5 °C, from the settings.\n")
    found = json.loads(CliRunner().invoke(climate, ["--config", str(place), "--json"]).output)
    assert (found["counts_c"], found["celsius"], found["troubles"]) == (19.5, None, [])


def test_the_command_fails_when_nobody_tells_the_temperature(tmp_path: Path) -> None:
    place = tmp_path / "station.toml"
    place.write_text(LEAST + '[climate]\nsensor = "none"\nhumidity = false\n', "utf-8")
    assert CliRunner().invoke(climate, ["--config", str(place)]).exit_code == 1
    wrong = CliRunner().invoke(climate, ["--config", str(tmp_path / "none.toml")])
    assert wrong.exit_code == 2
    assert "there is no such file" in wrong.output
