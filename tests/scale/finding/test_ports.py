"""Ports by the names that last, and the profile kept for one."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from station.config import ScaleSettings
from station.errors import ScaleFault
from station.scale.delivery import Delivery
from station.scale.finding.outcome import Profile
from station.scale.finding.ports import Device, named
from station.scale.finding.profiles import FOUND, Profiles

ONE = Device("/dev/ttyUSB0", (0x0403, 0x6001, "A1"), "adapter")
TWIN_A = Device("/dev/ttyUSB1", (0x1A86, 0x7523, None))
TWIN_B = Device("/dev/ttyUSB2", (0x1A86, 0x7523, None))
BOARD = Device("/dev/ttyAMA0", None)
LINKS = {
    "/dev/serial/by-id/usb-adapter_A1-if00-port0": "/dev/ttyUSB0",
    "/dev/serial/by-path/platform-1": "/dev/ttyUSB0",
    "/dev/serial/by-id/usb-serial-if00-port0": "/dev/ttyUSB2",
    "/dev/serial/by-path/platform-2": "/dev/ttyUSB1",
    "/dev/serial/by-path/platform-3": "/dev/ttyUSB2",
}


def test_by_id_first_then_by_path_and_two_equal_ids_by_path_with_a_warning() -> None:
    found = {port.device.path: port for port in named([ONE, TWIN_A, TWIN_B, BOARD], LINKS, frozenset())}
    assert found["/dev/ttyUSB0"].name == "/dev/serial/by-id/usb-adapter_A1-if00-port0"
    assert found["/dev/ttyUSB0"].note == ""
    for twin, path in (("/dev/ttyUSB1", "platform-2"), ("/dev/ttyUSB2", "platform-3")):
        assert found[twin].name == f"/dev/serial/by-path/{path}"
        assert "same id" in found[twin].note
    assert (found["/dev/ttyAMA0"].name, found["/dev/ttyAMA0"].note) == ("/dev/ttyAMA0", "")
    assert "1a86:7523" in found["/dev/ttyUSB1"].words


def test_a_usb_port_without_lasting_name_says_so_and_the_console_is_left_out() -> None:
    found = named([ONE, BOARD], {}, frozenset({"/dev/ttyAMA0"}))
    assert [port.name for port in found] == ["/dev/ttyUSB0"]
    assert "may change" in found[0].note


PROFILE = Profile(
    "/dev/scale", "enq-five", 2400, "7E1", Delivery.ON_REQUEST, b"\x05", "g", "0.1", ("It answered ENQ.",)
)


def test_the_newest_profile_is_in_force_where_the_settings_say_found(tmp_path: Path) -> None:
    profiles = Profiles(tmp_path / "state")
    profiles.save(PROFILE)
    profiles.save(replace(PROFILE, port="/dev/other", unit="kg"))
    profiles.save(PROFILE)
    assert profiles.newest() == PROFILE
    settings = profiles.in_force(ScaleSettings(FOUND, ""))
    assert (settings.port, settings.family, settings.baud, settings.character) == (
        "/dev/scale",
        "enq-five",
        2400,
        "7E1",
    )
    assert (settings.unit, settings.worth, settings.request) == ("g", Decimal("0.1"), b"\x05")
    named_one = ScaleSettings("/dev/ttyUSB3", "value-unit")
    assert profiles.in_force(named_one) == named_one


@pytest.mark.parametrize("text", ["", "{", "[]", '{"/dev/scale": {}}', '{"/dev/scale": {"baud": "x"}}'])
def test_without_a_readable_profile_the_way_to_one_is_said(tmp_path: Path, text: str) -> None:
    (tmp_path / "scale.json").write_text(text)
    with pytest.raises(ScaleFault, match="No scale was found yet"):
        Profiles(tmp_path).in_force(ScaleSettings(FOUND, ""))
