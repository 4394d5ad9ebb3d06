"""Power cuts: whatever was acknowledged is on the disk, whole and in order, wherever the power fails.

A program works under the shim; its log is replayed to many places, and each time a state that a cut there could leave
is made and judged. Every promise stands beside a control, the same program made careless, in which harm is found.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.faults.conftest import Writer
from tests.faults.judges import FILE, RecordJudge, one_whole_text, whole_lines
from tests.faults.powercut import Folders
from tests.faults.shim import Kind, Log
from tests.faults.survey import Judge, Outcome, Survey, survey

BOTH = tuple(Folders)
OFTEN = "wal_autocheckpoint=60"
ROUNDS = 30


def _checkpoints(log: Log) -> int:
    """How often pages were brought from the write-ahead log into the record: each time ends with an fsync of it."""
    record = next(op.file for op in log.ops if op.kind is Kind.OPENED and op.path == "state/record.db")
    return sum(op.kind is Kind.SYNCED and op.file == record for op in log.ops)


def _record(log: Log, casts: int, scratch: Path, cuts: int, folders: tuple[Folders, ...] = BOTH) -> Survey:
    return survey(log, RecordJudge(casts), scratch, cuts=cuts, seed=417, folders=folders)


def test_no_acknowledged_entry_is_lost_in_500_power_cuts(writes: Writer, scratch: Path) -> None:
    log = writes("write_casts", "state", 16, OFTEN)
    assert _checkpoints(log) > 10
    found = _record(log, 16, scratch, 250)
    assert (found.bad, found.found[Outcome.KEPT]) == (0, 500), found


@pytest.mark.soak
@pytest.mark.parametrize("pragmas", [(), (OFTEN,)], ids=["checkpoints as they come", "many checkpoints"])
def test_no_acknowledged_entry_is_lost_in_six_thousand_power_cuts(
    pragmas: tuple[str, ...], writes: Writer, scratch: Path
) -> None:
    log = writes("write_casts", "state", 40, *pragmas)
    assert _checkpoints(log) > 2
    found = _record(log, 40, scratch, 3000)
    assert (found.bad, found.found[Outcome.KEPT]) == (0, 6000), found


def test_control_a_record_that_is_not_synced_at_every_commit_loses_acknowledged_entries(
    writes: Writer, scratch: Path
) -> None:
    found = _record(writes("write_casts", "state", 8, OFTEN, "synchronous=NORMAL"), 8, scratch, 30)
    assert found.found[Outcome.LOST] > 20, found


def test_control_a_record_that_is_never_synced_is_damaged(writes: Writer, scratch: Path) -> None:
    found = _record(writes("write_casts", "state", 8, OFTEN, "synchronous=OFF"), 8, scratch, 30)
    assert found.found[Outcome.DAMAGED] > 5, found
    assert found.found[Outcome.LOST] > 5, found


@pytest.mark.parametrize(
    ("way", "judge"), [("replace_whole", one_whole_text), ("append_line", whole_lines)], ids=["replaced", "added to"]
)
def test_a_small_file_is_as_before_or_as_after_in_every_one_of_2000_power_cuts(
    way: str, judge: Judge, writes: Writer, scratch: Path
) -> None:
    log = writes("write_files", FILE, way, ROUNDS)
    found = survey(log, judge, scratch, cuts=1000, seed=417, folders=BOTH)
    assert (found.bad, found.found[Outcome.KEPT]) == (0, 2000), found


@pytest.mark.parametrize(
    ("way", "judge", "harm"),
    [
        ("only_written", one_whole_text, Outcome.DAMAGED),
        ("only_renamed", one_whole_text, Outcome.DAMAGED),
        ("only_added", whole_lines, Outcome.LOST),
    ],
)
def test_control_a_small_file_kept_without_fsync_is_spoilt(
    way: str, judge: Judge, harm: Outcome, writes: Writer, scratch: Path
) -> None:
    found = survey(writes("write_files", FILE, way, ROUNDS), judge, scratch, cuts=100, seed=417, folders=BOTH)
    assert found.found[harm] > 20, found


def _while_made(writes: Writer, place: str) -> Log:
    """The log of making a record, up to where it counts as made."""
    log = writes("write_casts", place, 0)
    made = next(at for at, op in enumerate(log.ops) if op.kind is Kind.MARKED)
    return replace(log, ops=log.ops[: made + 1])


NEW_RECORDS = pytest.mark.parametrize("place", ["state", "state/new/er"], ids=["old folder", "new folders"])


@NEW_RECORDS
def test_a_cut_while_a_record_is_made_leaves_none_or_a_whole_one(place: str, writes: Writer, scratch: Path) -> None:
    log = _while_made(writes, place)
    found = survey(log, RecordJudge(0, place), scratch, cuts=60, seed=417, folders=BOTH)
    assert (found.bad, found.found[Outcome.KEPT]) == (0, 120), found


@pytest.mark.soak
@NEW_RECORDS
def test_six_thousand_cuts_while_a_record_is_made(place: str, writes: Writer, scratch: Path) -> None:
    log = _while_made(writes, place)
    found = survey(log, RecordJudge(0, place), scratch, cuts=3000, seed=417, folders=BOTH)
    assert (found.bad, found.found[Outcome.KEPT]) == (0, 6000), found


def test_what_is_acknowledged_in_new_folders_is_found_in_them(writes: Writer, scratch: Path) -> None:
    log = writes("write_casts", "state/new/er", 1)
    found = survey(log, RecordJudge(1, "state/new/er"), scratch, cuts=30, seed=417, folders=BOTH)
    assert (found.bad, found.found[Outcome.KEPT]) == (0, 60), found


def test_control_folders_whose_names_are_not_synced_are_lost_with_all_that_is_in_them(
    writes: Writer, scratch: Path
) -> None:
    log = writes("write_casts", "state/new/er", 1)
    above = {"state", "state/new"}
    careless = replace(log, ops=[op for op in log.ops if not (op.kind is Kind.SYNCED and op.path in above)])
    assert len(log.ops) - len(careless.ops) == len(above)
    found = survey(careless, RecordJudge(1, "state/new/er"), scratch, cuts=30, seed=417, folders=BOTH)
    assert found.found[Outcome.LOST] > 5, found
