"""Judges of what a power cut left: the record, and the small files beside it."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from station.errors import StationError
from station.keeping import append_line
from station.store.backup.contents import RECORD
from station.store.ledger import SqlLedger
from station.store.verify import verify
from tests.faults.survey import Finding, Outcome
from tests.faults.write_files import text
from tests.store.disk import opened
from tests.store.stories import a_day

FILE: Final = "state/file"


class RecordJudge:
    """The record in `place` opens, is whole, and holds a beginning of the story that reaches past all acknowledged."""

    def __init__(self, casts: int, place: str = "state") -> None:
        self._story, self._place = list(a_day(casts)), place

    def __call__(self, folder: Path, acknowledged: Sequence[str]) -> Finding:
        state = folder / self._place
        known = int(acknowledged[-1]) if acknowledged else 0
        try:
            with SqlLedger(state) as ledger:
                entries = list(ledger.entries())
                ledger.write(self._story[len(entries) :][:1])  # work goes on
                ledger.last_seen()
            verdict = verify(state / RECORD)
            with opened(state / RECORD) as db:
                checks = ("PRAGMA integrity_check", "PRAGMA foreign_key_check")
                sound = [row for check in checks for row in db.execute(check)]
        except (StationError, sqlite3.Error) as fault:
            return Finding(Outcome.DAMAGED, str(fault))
        if not verdict.ok:
            return Finding(Outcome.DAMAGED, verdict.words)
        if sound != [("ok",)]:
            return Finding(Outcome.DAMAGED, f"integrity check: {sound[:3]}")
        if entries != self._story[: len(entries)]:
            return Finding(Outcome.DAMAGED, f"{len(entries)} entries that are not how the story begins")
        if len(entries) < known:
            return Finding(Outcome.LOST, f"{len(entries)} of {known} acknowledged entries")
        return Finding(Outcome.KEPT)


def one_whole_text(folder: Path, acknowledged: Sequence[str]) -> Finding:
    """`state/file` holds the text acknowledged last or the next one; before the first it may be missing."""
    last = int(acknowledged[-1]) if acknowledged else -1
    file = folder / FILE
    there = file.read_text("utf-8", "replace") if file.exists() else None
    if there in (text(last + 1), text(last) if acknowledged else None):
        return Finding(Outcome.KEPT)
    older = [number for number in range(last) if there == text(number)]
    if older or there is None:
        return Finding(Outcome.LOST, f"text {older} in the place of {last}")
    return Finding(Outcome.DAMAGED, f"{there[:40]!r}, {len(there)} characters, in the place of text {last}")


def whole_lines(folder: Path, acknowledged: Sequence[str]) -> Finding:
    """`state/file` holds every acknowledged line, and a line added after the cut is a line of its own."""
    file = folder / FILE
    append_line(file, "after the cut")
    lines = file.read_text("utf-8", "replace").split("\n")
    if lines[-2:] != ["after the cut", ""]:
        return Finding(Outcome.DAMAGED, f"it ends with {lines[-2:]}")
    for place, number in enumerate(acknowledged):
        if lines[place] != text(int(number)):
            return Finding(Outcome.LOST, f"line {number} of {len(acknowledged)} acknowledged")
    return Finding(Outcome.KEPT)
