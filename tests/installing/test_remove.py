"""Taking the station away: what goes, and what stays unless asked for."""

from pathlib import Path

import pytest

from station.installing.faults import NotNow
from station.installing.install import installed
from station.installing.remove import removed
from tests.installing.computers import a_computer


@pytest.fixture
def computer(tmp_path):
    made = a_computer(tmp_path)
    made.machine.keep_record()
    installed(made.bench())
    return made


def left(computer):
    """What lies there that was not there before; what the system keeps for itself does not count."""
    root = computer.machine.root
    files = (each.relative_to(root) for each in root.rglob("*") if not each.is_dir() or each.is_symlink())
    own = {computer.machine.lists.relative_to(root), Path("etc/os-release")}
    return {str(each) for each in files if each.parts[0] not in ("proc", "run") and each not in own}


def test_the_program_goes_and_settings_and_record_stay(computer):
    removed(computer.bench(), data=False)
    assert left(computer) == {"etc/tarebell/station.toml", "var/lib/tarebell/record.db"}
    assert computer.machine.unit.active == "inactive"
    assert not computer.machine.unit.enabled
    assert "tarebell" in computer.machine.users
    assert removed(computer.bench(), data=False) == []


def test_asked_for_everything_goes(computer):
    removed(computer.bench(), data=True)
    assert left(computer) == set()
    assert computer.machine.users == set()


def test_installed_again_it_goes_on_with_the_settings_and_record_that_stayed(computer):
    settings = computer.machine.root / "etc/tarebell/station.toml"
    settings.write_text(settings.read_text() + "# ours\n")
    removed(computer.bench(), data=False)
    installed(computer.bench())
    assert computer.machine.unit.active == "active"
    assert settings.read_text().endswith("# ours\n")


def test_while_a_clock_runs_nothing_is_taken_away(computer):
    computer.machine.busy = lambda: "clocks of cast 3 still run."
    before = left(computer)
    with pytest.raises(NotNow):
        removed(computer.bench(), data=True)
    assert left(computer) == before
    assert computer.machine.unit.active == "active"


def test_files_of_the_same_name_that_are_not_ours_stay(computer):
    ours = computer.machine.root / "usr/local/bin/tarebell"
    ours.unlink()
    ours.write_text("somebody's own")
    removed(computer.bench(), data=True)
    assert left(computer) == {"usr/local/bin/tarebell"}
