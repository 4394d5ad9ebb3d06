"""kill -9 at random points: whatever was acknowledged is there, the chain is whole, the tables are the journal's."""

from __future__ import annotations

import random
import subprocess
import sys
from pathlib import Path

import pytest

from station.store.engines import open_writer
from station.store.ledger import SqlLedger
from station.store.projection import rebuild
from station.store.verify import verify
from tests.store.disk import tables

ROOT = Path(__file__).parents[2]
KILLS, MORE_KILLS = 8, 40
"""For each change, and in a long run."""


def _killed_after(folder: Path, first: int, acknowledgements: int) -> int:
    """Let a writer acknowledge so many entries, kill it, and return the last number it managed to say."""
    command = [sys.executable, "-m", "tests.store.writer_to_kill", str(folder), str(first)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, cwd=ROOT, text=True) as writer:
        assert writer.stdout is not None
        for _ in range(acknowledgements):
            assert writer.stdout.readline(), "the writer ended by itself"
        writer.kill()
        said = writer.stdout.read().split("\n")
        writer.wait(30)
    whole = [line for line in said[:-1] if line]
    return len(whole) + acknowledgements


@pytest.mark.parametrize("kills", [KILLS, pytest.param(MORE_KILLS, marks=pytest.mark.soak)])
def test_no_acknowledged_entry_is_lost_by_kill_9(tmp_path: Path, kills: int) -> None:
    rng = random.Random(93)
    on_disk = 0
    for kill in range(kills):
        acknowledged = _killed_after(tmp_path, kill * 1000 + 1, rng.randint(1, 60))
        with SqlLedger(tmp_path) as ledger:  # the dead writer's lock is gone with it
            entries = list(ledger.entries())
        # One entry more may be on disk: committed, and killed before it could say so.
        assert acknowledged <= len(entries) - on_disk <= acknowledged + 1
        on_disk = len(entries)
        verdict = verify(tmp_path / "record.db")
        assert (verdict.ok, verdict.rows) == (True, on_disk), verdict.words
    before = tables(tmp_path / "record.db")
    rebuild(open_writer(tmp_path / "record.db"))
    assert tables(tmp_path / "record.db") == before
    assert on_disk > kills
