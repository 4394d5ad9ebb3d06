"""Evidence for the time, and the temperature at the bench."""

from datetime import UTC, datetime

from station.doctor.checks import surroundings
from station.doctor.finding import Verdict
from station.doctor.life import Life
from station.simulated.climate_files import SENSOR, ClimateFiles
from tests.doctor.ward import only


def test_without_evidence_the_time_needs_a_look(ward):
    found = only(surroundings.time, ward.patient())
    assert found.verdict is Verdict.LOOK
    assert "has heard no time server" in found.told
    assert "only the station knows" in only(surroundings.time, ward.patient(Life.RUNS)).cure


def test_the_mark_of_a_time_service_is_evidence(ward):
    ward.put("/run/systemd/timesync/synchronized")
    assert only(surroundings.time, ward.patient()).verdict is Verdict.PASS


def test_another_mark_of_the_settings_is_evidence(ward):
    ward.settings('[time]\nmark = "/run/time-heard"\n')
    assert only(surroundings.time, ward.patient()).verdict is Verdict.LOOK
    ward.put("/run/time-heard")
    assert only(surroundings.time, ward.patient()).verdict is Verdict.PASS


def test_a_battery_clock_that_disagrees_is_no_evidence(ward):
    ward.put("/sys/class/rtc/rtc0/hctosys", "1\n")
    clock = ward.put("/sys/class/rtc/rtc0/since_epoch", "1000\n")
    assert only(surroundings.time, ward.patient()).verdict is Verdict.LOOK
    seen = ward.patient().now.wall
    clock.write_text(f"{int((seen - datetime(1970, 1, 1, tzinfo=UTC)).total_seconds())}\n")
    assert only(surroundings.time, ward.patient()).verdict is Verdict.PASS


def test_a_sensor_that_answers_passes(ward):
    files = ClimateFiles(ward.root / "sys" / "bus")
    ward.root.joinpath("sys", "bus", "w1", "devices").symlink_to(".")
    files.celsius(21.5)
    found = only(surroundings.climate, ward.patient())
    assert found.verdict is Verdict.PASS
    assert found.told == "The temperature sensor says 21.5 °C."
    files.humidity(43, 22)
    ward.root.joinpath("sys", "bus", "iio").joinpath("devices").symlink_to(".")
    assert "The humidity sensor says 43 %." in only(surroundings.climate, ward.patient()).told
    files.unplugged()
    ward.settings('[climate]\nsensor = "none"\n')
    assert only(surroundings.climate, ward.patient()).verdict is Verdict.LOOK


def test_a_sensor_with_a_fault_needs_a_look_and_its_number_is_not_told_to_others(ward):
    files = ClimateFiles(ward.root / "sys" / "bus")
    ward.root.joinpath("sys", "bus", "w1", "devices").symlink_to(".")
    files.supply_failed()
    found = only(surroundings.climate, ward.patient())
    assert found.verdict is Verdict.LOOK
    assert SENSOR in found.told
    assert SENSOR not in found.without_names().told


def test_a_typed_temperature_is_enough_and_none_at_all_needs_a_look(ward):
    climate = '[climate]\nsensor = "none"\nhumidity = false\n'
    ward.settings(climate)
    assert only(surroundings.climate, ward.patient()).verdict is Verdict.LOOK
    ward.settings(climate, top='temperature = "22 °C"\n')
    found = only(surroundings.climate, ward.patient())
    assert (found.verdict, found.told) == (Verdict.PASS, "By the settings it has 22.0 °C at the bench.")
