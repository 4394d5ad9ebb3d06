"""Power cuts while a damaged record is restored: nothing of the damaged files is lost, and restoring can begin again."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.faults.conftest import Writer
from tests.faults.judge_restore import RestoreJudge, rows_to_be_had
from tests.faults.powercut import Folders
from tests.faults.shim import Log
from tests.faults.survey import Outcome, Survey, survey
from tests.faults.write_restore import DAY, SAVED, with_damage

BOTH = tuple(Folders)
Restoring = Callable[[str, str], tuple[Log, int]]

CASES = pytest.mark.parametrize(
    ("damage", "way"),
    [
        ("row changed", "careful"),
        ("row changed", "noted late"),
        ("log spoilt", "careful"),
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


def _found(log: Log, rows: int, scratch: Path, cuts: int) -> Survey:
    return survey(log, RestoreJudge(log, rows), scratch, cuts=cuts, seed=417, folders=BOTH)


@CASES
def test_a_restoring_cut_short_keeps_the_damaged_files_and_can_begin_again(
    damage: str, way: str, restores: Restoring, scratch: Path
) -> None:
    log, rows = restores(damage, way)
    found = _found(log, rows, scratch, 6)
    assert (found.bad, found.found[Outcome.KEPT]) == (0, 12), found


def test_what_can_be_had_differs_between_the_damages(folder: Path) -> None:
    with_damage(folder, "log spoilt", "careful")
    assert SAVED < rows_to_be_had(folder) < len(DAY)


@pytest.mark.soak
@CASES
def test_restoring_in_cuts_at_every_call(damage: str, way: str, restores: Restoring, scratch: Path) -> None:
    log, rows = restores(damage, way)
    cuts = 3 * (len(log.ops) + 1)
    found = _found(log, rows, scratch, cuts)
    print(f"{len(log.ops)} calls; {rows} of {len(DAY)} rows; {found}")
    assert (found.bad, found.found[Outcome.KEPT]) == (0, 2 * cuts), found


def test_control_a_restoring_that_is_not_synced_loses_the_damaged_files(restores: Restoring, scratch: Path) -> None:
    log, rows = restores("row changed", "unsynced")
    found = _found(log, rows, scratch, 10)
    assert found.found[Outcome.LOST] > 2, found


def test_control_a_row_that_is_not_restored_is_missed(restores: Restoring, scratch: Path) -> None:
    log, rows = restores("log spoilt", "careful")
    found = _found(log, rows + 1, scratch, 3)
    assert found.found[Outcome.LOST] == 6, found
