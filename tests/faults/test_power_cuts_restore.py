"""Power cuts while a damaged record is restored: no damaged file is lost, and restoring can begin again."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from station.store.rescue.places import SET_ASIDE
from tests.faults.conftest import Writer
from tests.faults.judge_restore import RestoreJudge, rows_to_be_had
from tests.faults.powercut import Folders
from tests.faults.shim import Kind, Log
from tests.faults.survey import Outcome, Survey, survey
from tests.faults.write_restore import DAY, SAVED, with_damage

BOTH = tuple(Folders)
Restoring = Callable[[str, str], tuple[Log, int]]

CASES = pytest.mark.parametrize(
    ("damage", "way"),
    [
        ("row changed", "careful"),
        ("row changed", "noted late"),
        ("log spoilt", "by the page"),
        ("log spoilt", "no second names"),
        ("record emptied", "careful"),
    ],
)


@pytest.fixture
def restores(folder: Path, writes: Writer) -> Restoring:
    """The log of a restoring, and how many rows can be had."""

    def restore(damage: str, way: str) -> tuple[Log, int]:
        with_damage(folder, damage, way)
        rows = rows_to_be_had(folder)
        return writes("write_restore", "", way), rows

    return restore


def _found(log: Log, rows: int, scratch: Path, cuts: int, first: int = 0) -> Survey:
    return survey(log, RestoreJudge(log, rows), scratch, cuts=cuts, seed=417, folders=BOTH, first=first)


def _where(log: Log, kind: Kind, path: str) -> int:
    return next(at for at, op in enumerate(log.ops) if op.kind is kind and op.path == path)


def _set_aside(log: Log) -> int:
    """Where the files are first touched: all before is the making of the new record."""
    return next(at for at, op in enumerate(log.ops) if op.kind is Kind.MADE and SET_ASIDE in op.path)


@CASES
def test_a_restoring_cut_short_keeps_the_damaged_files_and_can_begin_again(
    damage: str, way: str, restores: Restoring, scratch: Path
) -> None:
    log, rows = restores(damage, way)
    found = _found(log, rows, scratch, 6, _set_aside(log))
    assert (found.bad, found.found[Outcome.KEPT]) == (0, 12), found


def test_an_old_record_without_its_log_is_not_taken_for_a_whole_one(restores: Restoring, scratch: Path) -> None:
    """Between the two it is whole by itself, and shorter: only the note of the record's end tells."""
    log, rows = restores("row changed", "noted late")
    gone, there = _where(log, Kind.UNLINKED, "state/record.db-wal"), _where(log, Kind.RENAMED, "state/.record.db.new")
    assert gone < there
    found = _found(replace(log, ops=log.ops[:there]), rows, scratch, 8, gone + 1)
    assert (found.bad, found.found[Outcome.KEPT]) == (0, 16), found


def test_a_restored_record_is_not_called_damaged_after_a_cut(restores: Restoring, scratch: Path) -> None:
    """It is shorter than the one before it had been noted to be."""
    log, rows = restores("log spoilt", "by the page")
    done = _where(log, Kind.MARKED, "")
    found = _found(replace(log, ops=log.ops[: done + 1]), rows, scratch, 5, done + 1)
    assert (found.bad, found.found[Outcome.KEPT]) == (0, 10), found


def test_what_can_be_had_differs_between_the_damages(folder: Path) -> None:
    with_damage(folder, "log spoilt", "careful")
    assert SAVED < rows_to_be_had(folder) < len(DAY)


@pytest.mark.soak
@CASES
def test_restoring_in_cuts_at_every_call(damage: str, way: str, restores: Restoring, scratch: Path) -> None:
    log, rows = restores(damage, way)
    cuts = 2 * (len(log.ops) + 1)
    found = _found(log, rows, scratch, cuts)
    print(f"{len(log.ops)} calls; {rows} of {len(DAY)} rows; {found}")
    assert (found.bad, found.found[Outcome.KEPT]) == (0, 2 * cuts), found


def test_control_a_restoring_that_is_not_synced_loses_the_damaged_files(restores: Restoring, scratch: Path) -> None:
    log, rows = restores("row changed", "unsynced")
    found = _found(log, rows, scratch, 10, _set_aside(log))
    assert found.found[Outcome.LOST] > 2, found


def test_control_a_row_that_is_not_restored_is_missed(restores: Restoring, scratch: Path) -> None:
    log, rows = restores("log spoilt", "careful")
    found = _found(log, rows + 1, scratch, 3)
    assert found.found[Outcome.LOST] == 6, found
