"""Installing on a fresh card, again, and as a repair."""

import os

import pytest

from station.errors import Refused
from station.installing.ending import last_words
from station.installing.faults import InstallFault
from station.installing.fitness import check_fits
from station.installing.install import installed
from station.installing.places import FIXED
from tests.installing.computers import ROOT, a_computer, a_source


@pytest.fixture
def computer(tmp_path):
    return a_computer(tmp_path)


def test_a_fresh_card_ends_with_a_station_that_runs_and_says_where_and_with_which_code(computer):
    last_words(computer.bench(), installed(computer.bench()))
    machine = computer.machine
    assert machine.unit.active == "active"
    assert machine.unit.enabled
    assert machine.runs().name == "0.1.0-1"
    assert machine.packages == {"python3-lgpio", "espeak-ng", "avahi-daemon"}
    assert "http://192.0.2.7:8060/" in computer.told
    assert "The pairing code is 123 456." in computer.told
    root = machine.root
    for name, place in FIXED.items():
        assert (root / place).read_text() == (computer.source.folder / "systemd" / name).read_text()
    assert os.readlink(root / "usr/local/bin/tarebell") == "/opt/tarebell/current/bin/tarebell"
    assert "_http._tcp" in (root / "etc/avahi/services/tarebell.service").read_text()
    assert os.readlink(root / "etc/udev/rules.d/90-brltty-usb-generic.rules") == "/dev/null"


def test_where_a_phone_may_touch_already_no_code_is_said_aloud(computer):
    last_words(computer.bench(), installed(computer.bench()))
    (computer.machine.root / "var/lib/tarebell/devices.json").write_text('{"devices": [{"id": "1"}]}')
    computer.told.clear()
    last_words(computer.bench(), installed(computer.bench()))
    assert "The pairing code is 123 456." not in computer.told
    assert "A code for one more phone: sudo tarebell pair" in computer.told


def test_again_nothing_is_done(computer):
    installed(computer.bench())
    before = len(computer.machine.commands)
    computer.told.clear()
    done = installed(computer.bench())
    assert done == []
    last_words(computer.bench(), done)
    assert computer.told[0] == "Everything is as it should be. Nothing was changed."
    looks = {"dpkg-query", "id", "systemctl", "runuser", "apt-cache"}
    for command in computer.machine.commands[before:]:
        assert command[0] in looks or command[1] == "--version"
        assert command[:2] not in (("systemctl", "start"), ("systemctl", "stop"), ("systemctl", "daemon-reload"))


LOST = (
    *FIXED.values(),
    "usr/local/bin/tarebell",
    "etc/avahi/services/tarebell.service",
    "etc/udev/rules.d/90-brltty-usb-generic.rules",
)


@pytest.mark.parametrize("lost", LOST)
def test_what_is_lost_or_changed_around_it_is_put_right_and_nothing_else(computer, lost):
    installed(computer.bench())
    place = computer.machine.root / lost
    good = os.readlink(place) if place.is_symlink() else place.read_text()
    place.unlink()
    assert len(installed(computer.bench())) == 1
    assert (os.readlink(place) if place.is_symlink() else place.read_text()) == good
    place.unlink()
    place.write_text("spoilt")
    assert len(installed(computer.bench())) == 1
    assert (os.readlink(place) if place.is_symlink() else place.read_text()) == good
    assert installed(computer.bench()) == []


def test_a_station_that_was_stopped_or_switched_off_comes_back(computer):
    installed(computer.bench())
    unit = computer.machine.unit
    unit.active, unit.enabled = "inactive", False
    assert len(installed(computer.bench())) == 2
    assert (unit.active, unit.enabled) == ("active", True)


def test_a_user_or_a_folder_that_is_gone_comes_back(computer):
    installed(computer.bench())
    computer.machine.users.clear()
    assert len(installed(computer.bench())) == 1
    (computer.machine.root / "var/lib/tarebell/backups").rmdir()
    assert len(installed(computer.bench())) == 1
    assert (computer.machine.root / "var/lib/tarebell/backups").is_dir()


def test_a_version_that_does_not_start_any_more_is_built_anew(computer):
    installed(computer.bench())
    (computer.machine.runs() / "bin/tarebell").unlink()
    computer.machine.unit.active = "inactive"
    installed(computer.bench())
    assert computer.machine.runs().name == "0.1.0-2"
    assert computer.machine.unit.active == "active"
    assert installed(computer.bench()) == []


def test_one_that_does_not_start_any_more_is_left_alone_while_its_process_still_runs(computer):
    installed(computer.bench())
    (computer.machine.runs() / "bin/tarebell").unlink()
    with pytest.raises(InstallFault, match="cannot be asked whether a cast is at the bench"):
        installed(computer.bench())
    assert computer.machine.unit.active == "active"


def test_settings_that_are_there_are_never_touched(computer):
    place = computer.machine.root / "etc/tarebell/station.toml"
    place.parent.mkdir(parents=True)
    place.write_text('name = "Ours"\n')
    installed(computer.bench())
    assert place.read_text() == 'name = "Ours"\n'


def test_first_settings_are_the_example_with_a_scale_that_is_still_to_be_found(computer):
    installed(computer.bench())
    first = (computer.machine.root / "etc/tarebell/station.toml").read_text().splitlines()
    example = (ROOT / "station/examples/station.toml").read_text().splitlines()
    changed = [(old, new) for old, new in zip(example, first, strict=True) if old != new]
    assert len(changed) == 1
    assert changed[0][1].startswith('port = "found"')


def test_wrong_settings_are_said_before_anything_starts(computer):
    place = computer.machine.root / "etc/tarebell/station.toml"
    place.parent.mkdir(parents=True)
    place.write_text('name = "wrong"\n')
    with pytest.raises(InstallFault, match="name: what is that"):
        installed(computer.bench())
    assert computer.machine.unit.active == "inactive"
    place.write_text('name = "right"\n')
    installed(computer.bench())
    assert computer.machine.unit.active == "active"


def test_the_page_is_announced_as_the_settings_have_it(computer):
    installed(computer.bench())
    place = computer.machine.root / "etc/tarebell/station.toml"
    place.write_text(place.read_text().replace("port = 8060", "port = 443").replace("# certificate", "certificate"))
    assert installed(computer.bench()) == ["The page is announced in the network."]
    said = (computer.machine.root / "etc/avahi/services/tarebell.service").read_text()
    assert "<type>_https._tcp</type>" in said
    assert "<port>443</port>" in said


def test_where_systemd_does_not_run_all_is_made_ready_for_the_next_start(computer):
    (computer.machine.root / "run/systemd/system").rmdir()
    last_words(computer.bench(), installed(computer.bench()))
    assert computer.machine.unit.enabled
    assert computer.machine.unit.active == "inactive"
    assert computer.told[-1] == "systemd does not run here: the station starts with the computer."


def test_a_first_start_that_fails_says_so(computer):
    computer.machine.ill[computer.source.digest] = "crashes"
    with pytest.raises(InstallFault, match="It ended 2 times right after its start"):
        installed(computer.bench())


def test_another_version_is_not_changed_to_by_the_way(computer, tmp_path):
    installed(computer.bench())
    computer.source = a_source(tmp_path / "newer", "newer")
    with pytest.raises(Refused, match="holds another one"):
        installed(computer.bench())
    assert computer.machine.runs().name == "0.1.0-1"


@pytest.mark.parametrize(
    "told",
    [
        'ID=debian\nVERSION_ID="11"\nPRETTY_NAME="Debian 11"\n',
        'ID=fedora\nVERSION_ID="41"\nPRETTY_NAME="Another one"\n',
        "",
    ],
)
def test_a_system_that_does_not_suit_is_refused(computer, told):
    check_fits(computer.machine, computer.machine.root)
    (computer.machine.root / "etc/os-release").write_text(told)
    with pytest.raises(Refused, match="This system is"):
        check_fits(computer.machine, computer.machine.root)
