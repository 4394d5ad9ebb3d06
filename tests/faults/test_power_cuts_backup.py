"""Power cuts while backups are made and copied away: what is listed is good, and nothing goes before its time."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.faults.conftest import Writer
from tests.faults.judge_backups import BackupJudge
from tests.faults.powercut import Folders
from tests.faults.shim import Kind, Log
from tests.faults.survey import Outcome, Survey, survey
from tests.faults.write_backups import SHELF, with_a_shelf

BOTH = tuple(Folders)


@pytest.fixture
def backups(folder: Path, writes: Writer) -> Writer:
    with_a_shelf(folder)
    (folder / "stick").mkdir()
    return lambda way, days=1: writes("write_backups", "", days, way)


def _found(log: Log, scratch: Path, cuts: int, after: int = 0, before: int | None = None) -> Survey:
    part = replace(log, ops=log.ops[:before])
    return survey(part, BackupJudge(log), scratch, cuts=cuts, seed=417, folders=BOTH, first=after)


def _where(log: Log, kind: Kind) -> int:
    """The first call of this kind in the folder of backups."""
    return next(at for at, op in enumerate(log.ops) if op.kind is kind and op.path.startswith(SHELF))


def test_every_listed_backup_is_good_and_none_goes_before_the_next_one_stands(backups: Writer, scratch: Path) -> None:
    found = _found(backups("careful"), scratch, 20)
    assert (found.bad, found.found[Outcome.KEPT]) == (0, 40), found


@pytest.mark.soak
def test_backups_in_cuts_at_every_call(backups: Writer, scratch: Path) -> None:
    log = backups("careful", 2)
    cuts = 8 * (len(log.ops) + 1)
    found = _found(log, scratch, cuts)
    print(f"{len(log.ops)} calls; {found}")
    assert (found.bad, found.found[Outcome.KEPT]) == (0, 2 * cuts), found


def test_control_backups_that_are_not_synced_are_lost_or_torn(backups: Writer, scratch: Path) -> None:
    log = backups("unsynced")
    found = _found(log, scratch, 20, after=_where(log, Kind.RENAMED) + 1)
    assert found.found[Outcome.DAMAGED] > 5, found
    assert found.found[Outcome.LOST] > 5, found


def test_control_a_station_that_lets_go_of_a_backup_first_is_caught(backups: Writer, scratch: Path) -> None:
    log = backups("let go first")
    found = _found(log, scratch, 15, after=_where(log, Kind.UNLINKED) + 1, before=_where(log, Kind.RENAMED))
    assert found.found[Outcome.LOST] > 5, found
