"""Judges of what a power cut left: the record, and the small files beside it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from station.errors import StationError
from station.store.ledger import RECORD_FILE, SqlLedger
from station.store.verify import verify
from tests.faults.survey import Finding, Outcome
from tests.store.disk import opened
from tests.store.stories import a_day


class RecordJudge:
    """The record in `state` opens, is whole, and holds a beginning of the story that reaches past all acknowledged."""

    def __init__(self, casts: int) -> None:
        self._story = list(a_day(casts))

    def __call__(self, folder: Path, acknowledged: Sequence[str]) -> Finding:
        state = folder / "state"
        known = int(acknowledged[-1]) if acknowledged else 0
        try:
            with SqlLedger(state) as ledger:
                entries = list(ledger.entries())
                ledger.write(self._story[len(entries) :][:1])  # work goes on
                ledger.last_seen()
            verdict = verify(state / RECORD_FILE)
            with opened(state / RECORD_FILE) as db:
                sound = db.execute("PRAGMA integrity_check").fetchall() + db.execute("PRAGMA foreign_key_check").fetchall()
        except StationError as fault:
            return Finding(Outcome.DAMAGED, fault.sentence())
        if not verdict.ok:
            return Finding(Outcome.DAMAGED, verdict.words)
        if sound != [("ok",)]:
            return Finding(Outcome.DAMAGED, f"integrity check: {sound[:3]}")
        if entries != self._story[: len(entries)]:
            return Finding(Outcome.DAMAGED, f"{len(entries)} entries that are not how the story begins")
        if len(entries) < known:
            return Finding(Outcome.LOST, f"{len(entries)} of {known} acknowledged entries")
        return Finding(Outcome.KEPT)
