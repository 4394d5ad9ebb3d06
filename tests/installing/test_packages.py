"""Where the packages of an installation come from, and what happens when they do not come."""

import os

import pytest

from station.installing.faults import InstallFault
from station.installing.install import installed
from tests.installing.computers import a_computer


@pytest.fixture
def computer(tmp_path):
    return a_computer(tmp_path)


def test_without_internet_packages_come_from_a_folder_and_nothing_else_is_asked(computer, tmp_path):
    computer.machine.net = False
    computer.wheels = tmp_path / "wheels"
    installed(computer.bench())
    pips = [command for command in computer.machine.commands if "pip" in command]
    assert pips
    for command in pips:
        assert "--no-index" in command
        assert command[command.index("--find-links") + 1] == str(tmp_path / "wheels")
    assert any(words.startswith("Not installed: python3-lgpio, espeak-ng, avahi-daemon") for words in computer.told)
    assert computer.machine.unit.active == "active"
    assert installed(computer.bench()) == []


def test_a_package_that_this_system_has_not_is_not_missed(computer):
    computer.machine.offers.discard("python3-lgpio")
    installed(computer.bench())
    assert computer.machine.packages == {"espeak-ng", "avahi-daemon"}
    assert not any(words.startswith("Not installed") for words in computer.told)
    assert installed(computer.bench()) == []


def test_a_new_card_that_has_read_no_list_yet_reads_it_first(computer):
    assert not computer.machine.lists.exists()
    assert "Packages of the system are installed: python3-lgpio, espeak-ng, avahi-daemon." in installed(
        computer.bench()
    )


def test_nothing_is_asked_of_the_network_for_a_package_that_no_list_holds(computer):
    computer.machine.offers.discard("python3-lgpio")
    installed(computer.bench())
    computer.machine.commands.clear()
    installed(computer.bench())
    assert not [command for command in computer.machine.commands if command[0] == "apt-get"]


def test_without_internet_and_without_a_folder_it_says_what_to_do(computer):
    computer.machine.net = False
    with pytest.raises(InstallFault) as why:
        installed(computer.bench())
    assert "--fill-wheels" in why.value.sentence()


def test_the_system_s_library_for_the_pins_is_taken_and_nothing_else_of_the_system(computer):
    system = computer.machine.root / "usr/lib/python3/dist-packages"
    system.mkdir(parents=True)
    for name in ("lgpio.py", "_lgpio.cpython-311-aarch64-linux-gnu.so", "lgpio-0.2.2.0.egg-info", "flask.py"):
        (system / name).touch()
    installed(computer.bench())
    packages = computer.machine.runs() / "lib/python3.11/site-packages"
    links = {each.name: os.readlink(each) for each in packages.iterdir() if each.is_symlink()}
    assert links == {
        name: f"/usr/lib/python3/dist-packages/{name}"
        for name in ("lgpio.py", "_lgpio.cpython-311-aarch64-linux-gnu.so", "lgpio-0.2.2.0.egg-info")
    }
    assert not [command for command in computer.machine.commands if "--only-binary" in command]


def test_the_driver_of_the_shared_log_comes_once_the_settings_want_it(computer):
    installed(computer.bench())
    with (computer.machine.root / "etc/tarebell/station.toml").open("a") as settings:
        settings.write('[shared]\nurl = "postgresql://192.0.2.10/tarebell"\nbench = 2\n')
    assert installed(computer.bench()) == ["The driver of the shared log is installed."]
    assert installed(computer.bench()) == []


def test_a_full_card_is_said_before_anything_is_built(computer):
    computer.machine.free = 100
    with pytest.raises(InstallFault, match="100 MB free"):
        installed(computer.bench())
    assert not (computer.machine.root / "opt").exists()
