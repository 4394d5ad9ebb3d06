"""Power cuts while an older record is brought up to date: the next start ends it, and nothing is lost on the way."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.faults.conftest import Writer
from tests.faults.judge_migration import MigrationJudge
from tests.faults.powercut import Folders
from tests.faults.shim import Kind, Log
from tests.faults.survey import Outcome, Survey, survey
from tests.faults.write_migration import OLDER, with_an_older_record

BOTH = tuple(Folders)


@pytest.fixture
def migrates(folder: Path, writes: Writer) -> Writer:
    with_an_older_record(folder)
    return lambda way, *pragmas: writes("write_migration", "", way, *pragmas)


def _up_to_mark(log: Log, number: int) -> Log:
    """Mark 0: the record is of today; mark 1: the first entry after that. The rest test_power_cuts looks at."""
    marks = [at for at, op in enumerate(log.ops) if op.kind is Kind.MARKED]
    return replace(log, ops=log.ops[: marks[number] + 1])


def _found(log: Log, scratch: Path, cuts: int, older: int = OLDER, first: int = 0) -> Survey:
    return survey(log, MigrationJudge(older), scratch, cuts=cuts, seed=417, folders=BOTH, first=first)


def test_a_record_on_its_way_to_today_loses_nothing_and_arrives(migrates: Writer, scratch: Path) -> None:
    """A cut at every second call from the first change on; the long run cuts at every one."""
    log = _up_to_mark(migrates("careful"), 0)
    begun = next(at for at, op in enumerate(log.ops) if op.kind is Kind.MADE)
    cuts = (len(log.ops) - begun) // 2
    found = _found(log, scratch, cuts, first=begun + 1)
    assert (found.bad, found.found[Outcome.KEPT]) == (0, 2 * cuts), found


@pytest.mark.soak
def test_the_way_to_today_in_cuts_at_every_call(migrates: Writer, scratch: Path) -> None:
    log = _up_to_mark(migrates("careful"), 1)
    cuts = 12 * (len(log.ops) + 1)
    found = _found(log, scratch, cuts)
    print(f"{len(log.ops)} calls; {found}")
    assert (found.bad, found.found[Outcome.KEPT]) == (0, 2 * cuts), found


def test_control_a_change_whose_backup_is_not_synced_has_none(migrates: Writer, scratch: Path) -> None:
    found = _found(_up_to_mark(migrates("unsynced"), 1), scratch, 12)
    assert found.bad > 3, found


def test_control_a_change_that_is_never_synced_spoils_the_record(migrates: Writer, scratch: Path) -> None:
    log = _up_to_mark(migrates("careful", "synchronous=OFF", "wal_autocheckpoint=5"), 1)
    found = _found(log, scratch, 40)
    assert found.bad > 2, found


def test_control_an_entry_that_the_older_record_had_lost_is_missed(migrates: Writer, scratch: Path) -> None:
    found = _found(_up_to_mark(migrates("careful"), 0), scratch, 5, OLDER + 1)
    assert found.found[Outcome.LOST] == 10, found
