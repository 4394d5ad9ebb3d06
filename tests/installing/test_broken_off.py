"""Broken off anywhere: the process killed, or a command or a file's change refused. What ran before still runs, and the
same command again comes to its end."""

import os
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path

import pytest

from station.errors import StationError
from station.installing.install import installed
from station.installing.remove import removed
from tests.installing.breaking import Killed
from tests.installing.computers import Computer, a_computer, a_source

Work = Callable[[Computer], object]


def install(computer: Computer) -> None:
    installed(computer.bench())


def upgrade(computer: Computer) -> None:
    installed(computer.bench(), upgrade=True)


def take_away(computer: Computer) -> None:
    removed(computer.bench(), data=False)


def breaks(
    folder: Path, ready: Callable[[Path], Computer], work: Work, *, failing: bool, every: int = 1
) -> Iterator[Computer]:
    """A computer for each place where `work` can be broken off, or `every` second one, after that has happened."""
    place = -failing % every
    while True:
        place += every
        computer = ready(folder / f"{place}")
        computer.machine.break_at, computer.machine.failing = place, failing
        with computer.machine.counting(), suppress(Killed, StationError, OSError):
            work(computer)
        if computer.machine.calls < place:
            assert place > 20, "there must be many places"
            return
        computer.machine.break_at = None
        yield computer


def boots(computer: Computer) -> None:
    """The power goes and comes back: what is enabled starts."""
    unit = computer.machine.unit
    unit.active = "inactive"
    if unit.enabled:
        computer.machine.run("systemctl", "start", limit_s=1)
        computer.machine.run("systemctl", "show", limit_s=1)


def settled(computer: Computer) -> None:
    """The version from the source runs, and nothing is left to do."""
    assert computer.machine.unit.active == "active"
    assert computer.machine.unit.enabled
    assert computer.machine.digest() == computer.source.digest
    assert installed(computer.bench()) == []


def with_a_newer_source(folder: Path) -> Computer:
    computer = a_computer(folder)
    computer.machine.keep_record()
    install(computer)
    computer.source = a_source(folder / "newer", "newer")
    computer.machine.migrates.add(computer.source.digest)
    return computer


@pytest.fixture(autouse=True)
def _quick_disk(monkeypatch):
    """Thousands of small files: nothing here is about what a power cut leaves, so nobody waits for the disk."""
    monkeypatch.setattr(os, "fsync", lambda descriptor: None)


@pytest.mark.parametrize("failing", [False, True])
def test_an_installation_broken_off_anywhere_is_finished_by_the_next(tmp_path, failing):
    for computer in breaks(tmp_path, a_computer, install, failing=failing):
        install(computer)
        settled(computer)


@pytest.mark.parametrize("failing", [False, True])
def test_a_change_broken_off_anywhere_leaves_a_version_that_runs_and_the_next_finishes_it(tmp_path, failing):
    switched = 0
    for computer in breaks(tmp_path, with_a_newer_source, upgrade, failing=failing):
        new = computer.machine.digest() == computer.source.digest
        switched += new
        # Until the one rename the old version is current, and nothing of it was touched.
        assert new or computer.machine.digest() == a_source(tmp_path / "source", "first").digest
        boots(computer)
        assert computer.machine.unit.active == "active"
        upgrade(computer)
        settled(computer)
        assert computer.machine.record == "0004"
    assert switched


@pytest.mark.parametrize("failing", [False, True])
def test_a_change_to_a_bad_version_broken_off_anywhere_ends_with_the_old_one_and_its_record(tmp_path, failing):
    def with_a_bad_source(folder: Path) -> Computer:
        computer = with_a_newer_source(folder)
        computer.machine.ill[computer.source.digest] = "answers nothing"
        return computer

    old = a_source(tmp_path / "source", "first")
    # Places in turn: at the even ones it is killed, at the odd ones something fails.
    for computer in breaks(tmp_path, with_a_bad_source, upgrade, failing=failing, every=2):
        with pytest.raises(StationError):
            upgrade(computer)
        assert computer.machine.digest() == old.digest
        assert computer.machine.unit.active == "active"
        assert computer.machine.record == "0003"
        computer.source = old
        assert set(installed(computer.bench())) <= {"Old versions are removed; one stays."}


@pytest.mark.parametrize("failing", [False, True])
def test_taking_away_broken_off_anywhere_is_finished_by_the_next_or_undone_by_an_installation(tmp_path, failing):
    def ready(folder: Path) -> Computer:
        computer = a_computer(folder)
        computer.machine.keep_record()
        install(computer)
        return computer

    for place, computer in enumerate(breaks(tmp_path, ready, take_away, failing=failing)):
        assert (computer.machine.root / "var/lib/tarebell/record.db").exists()
        if place % 2:
            install(computer)
            settled(computer)
        take_away(computer)
        assert not (computer.machine.root / "opt/tarebell").exists()
        assert not (computer.machine.root / "usr/local/bin/tarebell").is_symlink()
        assert removed(computer.bench(), data=False) == []
