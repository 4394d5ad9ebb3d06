"""Changing to another version, refused while anything runs, and back within a minute when it is not well."""

import pytest

from station.installing.faults import InstallFault, Interrupted, NotNow
from station.installing.install import installed
from station.installing.machine import Ran
from tests.installing.computers import a_computer, a_source

PROMISED_S = 60.0


@pytest.fixture
def computer(tmp_path):
    made = a_computer(tmp_path)
    made.machine.keep_record()
    installed(made.bench())
    made.source = a_source(tmp_path / "newer", "newer")
    made.told.clear()
    return made


def unit_file(computer):
    return (computer.machine.root / "etc/systemd/system/tarebell.service").read_text()


def test_a_good_version_takes_over_and_the_one_before_stays(computer):
    installed(computer.bench(), upgrade=True)
    machine = computer.machine
    assert machine.digest() == computer.source.digest
    assert machine.unit.active == "active"
    assert unit_file(computer).endswith("# newer\n")
    assert {each.name for each in (machine.root / "opt/tarebell/versions").iterdir()} == {"0.1.0-1", "0.1.0-2"}
    assert installed(computer.bench(), upgrade=True) == []
    assert installed(computer.bench()) == []


def test_of_many_versions_two_stay(computer, tmp_path):
    for mark in ("second", "third", "fourth"):
        computer.source = a_source(tmp_path / mark, mark)
        installed(computer.bench(), upgrade=True)
    there = {each.name for each in (computer.machine.root / "opt/tarebell/versions").iterdir()}
    assert there == {"0.1.0-3", "0.1.0-4"}


def test_an_older_source_changes_back_without_building(computer, tmp_path):
    installed(computer.bench(), upgrade=True)
    computer.source = a_source(tmp_path / "source", "first")
    before = len(computer.machine.commands)
    installed(computer.bench(), upgrade=True)
    assert computer.machine.runs().name == "0.1.0-1"
    assert not [command for command in computer.machine.commands[before:] if "venv" in command]


def test_while_a_cast_is_at_the_bench_nothing_is_touched(computer):
    computer.machine.busy = lambda: "cast 7 is at the bench. Finish it or give it up first."
    before = len(computer.machine.commands)
    with pytest.raises(NotNow, match="cast 7 is at the bench"):
        installed(computer.bench(), upgrade=True)
    assert computer.machine.runs().name == "0.1.0-1"
    for command in computer.machine.commands[before:]:
        assert not {"venv", "pip", "start", "stop"}.intersection(command)


def test_a_cast_that_is_begun_at_the_last_moment_goes_on(computer):
    """Between the question and the stop somebody has pressed the pedal."""
    machine = computer.machine
    machine.busy = lambda: "" if machine.unit.active == "active" else "cast 8 is at the bench."
    with pytest.raises(NotNow, match="cast 8"):
        installed(computer.bench(), upgrade=True)
    assert machine.runs().name == "0.1.0-1"
    machine.run("systemctl", "show", limit_s=1)
    assert machine.unit.active == "active"


@pytest.mark.parametrize("fate", ["crashes", "hangs", "answers nothing"])
def test_a_version_that_is_not_well_gives_way_within_a_minute(computer, fate):
    machine = computer.machine
    machine.ill[computer.source.digest] = fate
    with pytest.raises(InstallFault, match=r"Version 0\.1\.0-2 was not well, so version 0\.1\.0-1 runs again"):
        installed(computer.bench(), upgrade=True)
    assert machine.seconds < PROMISED_S
    assert machine.runs().name == "0.1.0-1"
    assert machine.unit.active == "active"
    assert unit_file(computer).endswith("# first\n")
    assert machine.restored == []
    # Mended, the same command goes on.
    machine.ill.clear()
    installed(computer.bench(), upgrade=True)
    assert machine.runs().name == "0.1.0-2"


def test_a_version_that_reads_a_record_of_years_is_waited_for_as_long_as_it_gets_on(computer):
    machine = computer.machine
    machine.reads[computer.source.digest] = 400
    installed(computer.bench(), upgrade=True)
    assert machine.runs().name == "0.1.0-2"
    assert machine.seconds > 300


def test_the_record_is_read_ahead_while_the_old_version_still_runs(computer):
    machine = computer.machine
    at_that = []

    def interrupt(command):
        if "read-ahead" in command:
            at_that.append((machine.unit.active, machine.runs().name))

    machine.interrupt = interrupt
    installed(computer.bench(), upgrade=True)
    assert machine.read_ahead == [computer.source.digest]
    assert at_that == [("active", "0.1.0-1")]


def test_a_record_that_cannot_be_read_ahead_stops_no_update(computer, monkeypatch):
    ran = computer.machine.station

    def refused(program, words):
        return Ran(2, "No such command 'read-ahead'.") if words[0] == "read-ahead" else ran(program, words)

    monkeypatch.setattr(computer.machine, "station", refused)
    installed(computer.bench(), upgrade=True)
    assert computer.machine.runs().name == "0.1.0-2"
    assert any("reads the record at its first start" in line for line in computer.told)


def test_a_record_that_the_bad_version_has_changed_is_put_back(computer):
    machine = computer.machine
    machine.ill[computer.source.digest] = "answers nothing"
    machine.migrates.add(computer.source.digest)
    with pytest.raises(InstallFault, match="runs again"):
        installed(computer.bench(), upgrade=True)
    assert machine.restored == ["/var/lib/tarebell/backups/one.zip"]
    assert machine.record == "0003"
    assert machine.unit.active == "active"


def test_a_record_that_a_good_version_has_changed_stays_so(computer):
    computer.machine.migrates.add(computer.source.digest)
    installed(computer.bench(), upgrade=True)
    assert computer.machine.record == "0004"
    assert computer.machine.restored == []


def test_settings_that_the_new_version_does_not_understand_stop_it_before_the_old_one_does(computer):
    settings = computer.machine.root / "etc/tarebell/station.toml"
    settings.write_text(settings.read_text() + "# wrong\n")
    with pytest.raises(InstallFault, match="what is that"):
        installed(computer.bench(), upgrade=True)
    assert computer.machine.unit.active == "active"
    assert computer.machine.runs().name == "0.1.0-1"


def test_a_wish_to_end_in_the_middle_brings_the_old_version_back(computer):
    def interrupt(command):
        if command[:2] == ("systemctl", "start"):
            computer.machine.interrupt = lambda command: None
            raise Interrupted("Ended on request.")

    computer.machine.interrupt = interrupt
    with pytest.raises(InstallFault, match="runs again"):
        installed(computer.bench(), upgrade=True)
    assert computer.machine.runs().name == "0.1.0-1"
    assert computer.machine.unit.active == "active"


def test_it_cannot_be_found_out_whether_anything_runs_so_nothing_is_changed(computer, monkeypatch):
    asked = computer.machine.station

    def damaged(program, words):
        return Ran(1, "The record is damaged.") if "idle" in words else asked(program, words)

    monkeypatch.setattr(computer.machine, "station", damaged)
    with pytest.raises(InstallFault, match="The record is damaged"):
        installed(computer.bench(), upgrade=True)
    assert computer.machine.runs().name == "0.1.0-1"
