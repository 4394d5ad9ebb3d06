"""Python, libraries, system, board, supply and warmth."""

import re
import tomllib
from pathlib import Path

import pytest

from station.doctor.checks import power, program
from station.doctor.finding import Verdict
from tests.doctor.ward import only, verdicts

ROOT = Path(__file__).resolve().parents[2]


def test_the_libraries_are_those_that_the_package_asks_for():
    asked = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]["dependencies"]
    assert sorted(program.LIBRARIES) == sorted(re.match("[a-z]+", one)[0] for one in asked)


def test_python_and_every_library_are_told_with_their_version(ward):
    patient = ward.patient()
    assert re.search(r"Python 3\.\d+", only(program.python, patient).told)
    told = only(program.libraries, patient)
    assert told.verdict is Verdict.PASS
    assert all(re.search(rf"{name} \d", told.told) for name in program.LIBRARIES)


def test_an_old_python_and_a_missing_library_fail(ward, monkeypatch):
    (old,) = program.python(ward.patient(), (3, 9, 2))
    assert (old.verdict, old.told) == (Verdict.FAIL, "Python 3.9.2 is too old.")
    monkeypatch.setattr(program, "LIBRARIES", ("flask", "no-such-library"))
    missing, there = program.libraries(ward.patient())
    assert missing.verdict is Verdict.FAIL
    assert "no-such-library" in missing.told
    assert "flask" in there.told


def test_a_32_bit_system_needs_a_look(ward):
    ward.put("/etc/os-release", 'NAME="x"\nPRETTY_NAME="Debian GNU/Linux 12 (bookworm)"\n')
    ward.put("/proc/sys/kernel/osrelease", "6.1.0\n")
    ward.put("/proc/sys/kernel/arch", "aarch64\n")
    assert only(program.system, ward.patient()).told == "Debian GNU/Linux 12 (bookworm), kernel 6.1.0, aarch64."
    ward.put("/proc/sys/kernel/arch", "armv7l\n")
    assert only(program.system, ward.patient()).verdict is Verdict.LOOK


def test_the_board_says_its_model(ward):
    assert "does not tell" in only(program.board, ward.patient()).told
    ward.put("/proc/device-tree/model", "Raspberry Pi 4 Model B Rev 1.4\0")
    assert only(program.board, ward.patient()).told == "Raspberry Pi 4 Model B Rev 1.4."


@pytest.mark.parametrize(
    ("bits", "verdict"),
    [("0x0", Verdict.PASS), ("0x50000", Verdict.LOOK), ("0x50005", Verdict.FAIL), ("0x80008", Verdict.PASS)],
)
def test_the_firmware_says_whether_the_supply_holds_and_held(ward, bits, verdict):
    ward.answer("vcgencmd get_throttled", f"throttled={bits}\n")
    found = only(power.supply, ward.patient())
    assert found.verdict is verdict
    assert bool(found.cure) is (verdict is not Verdict.PASS)


def test_without_the_firmware_the_kernel_says_it(ward):
    assert only(power.supply, ward.patient()).verdict is Verdict.PASS
    ward.answer("vcgencmd get_throttled", "VCHI initialization failed", code=255)
    ward.put("/sys/class/hwmon/hwmon1/name", "rpi_volt\n")
    ward.put("/sys/class/hwmon/hwmon1/in0_lcrit_alarm", "1\n")
    assert only(power.supply, ward.patient()).verdict is Verdict.FAIL


def test_a_hot_board_and_one_that_was_hot_need_a_look(ward):
    ward.put("/sys/class/thermal/thermal_zone0/type", "cpu-thermal")
    zone = ward.put("/sys/class/thermal/thermal_zone0/temp", "51000\n")
    assert verdicts(power.heat(ward.patient())) == [Verdict.PASS]
    ward.answer("vcgencmd get_throttled", "throttled=0x40000\n")
    assert verdicts(power.heat(ward.patient())) == [Verdict.PASS, Verdict.LOOK]
    zone.write_text("84000\n")
    assert verdicts(power.heat(ward.patient())) == [Verdict.LOOK, Verdict.LOOK]
