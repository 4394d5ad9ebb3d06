"""Spoilt weighing traces are named at the command line and by the station's own check, which call no record damaged."""

from __future__ import annotations

import logging
from pathlib import Path

import pytest

from station.store.ledger import SqlLedger
from tests.store.benches import silicone_to_full_cure
from tests.store.disk import opened
from tests.system.test_commands import tarebell
from tests.system.whole import Whole

TOLD = (
    "Weighing traces of cast 1 are damaged or gone. "
    "The record is not: what was weighed stands in the journal, and that is what counts."
)


@pytest.fixture
def state(tmp_path: Path) -> Path:
    played = silicone_to_full_cure()
    with SqlLedger(tmp_path) as ledger:
        ledger.write(played.entries, played.traces)
    return tmp_path


def spoil(state: Path) -> None:
    with opened(state / "record.db") as db:
        db.execute("UPDATE traces SET points = x'00' WHERE step = 1")


def test_verify_names_the_cast_and_ends_with_a_code_of_its_own(state: Path) -> None:
    whole = tarebell("verify", "--state", state)
    assert whole.returncode == 0
    spoil(state)
    told = tarebell("verify", "--state", state)
    assert (told.returncode, told.stderr) == (4, "")
    assert told.stdout == f"{whole.stdout.strip()} {TOLD}\n"


def test_the_station_s_own_check_names_the_cast_and_leaves_the_record_in_use(
    state: Path, caplog: pytest.LogCaptureFixture
) -> None:
    with Whole(state) as whole:
        record = whole.station.record
        assert record.check_record()
        assert record.view().checked.endswith(" UTC.")
        spoil(state)
        with caplog.at_level(logging.WARNING, "tarebell.record"):
            assert record.check_record()
        assert TOLD in caplog.text
        assert record.view().checked.endswith(f" UTC. {TOLD}")
        assert record.view().damage == ""
        assert record.back_up("test").startswith("Backup made: ")
