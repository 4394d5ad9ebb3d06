"""The judge of what a power cut left of backups: every one that is listed is good, and none went before its time."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from pathlib import Path

from station.core.events import Entry
from station.errors import LedgerFault
from station.store import journal
from station.store.backup.contents import RECORD
from station.store.backup.packing import unpacked
from station.store.chain import entry_of
from station.store.engines import open_reader
from tests.faults.judges import RecordJudge
from tests.faults.shim import Kind, Log
from tests.faults.survey import Finding, Outcome
from tests.faults.write_backups import A_DAY, BEFORE_DAYS, CASTS, SHELF, STICK, day, shelf_in
from tests.store.stories import a_day


class BackupContents:
    """Whether a backup file is good and holds the beginning of the story; the same bytes are looked at once."""

    def __init__(self, story: Sequence[Entry]) -> None:
        self._story = list(story)
        self._known: dict[bytes, str] = {}

    def wrong(self, file: Path) -> str:
        """What is wrong with it; empty when nothing is."""
        seal = hashlib.sha256(file.read_bytes()).digest()
        if seal not in self._known:
            self._known[seal] = self._looked_at(file)
        return self._known[seal]

    def _looked_at(self, file: Path) -> str:
        try:
            with unpacked(file) as (room, label):
                reader = open_reader(room / RECORD)
                entries = [entry_of(row) for row in journal.all_rows(reader)]
                reader.dispose()
        except LedgerFault as bad:
            return bad.sentence()
        told = label.rows == len(entries) and entries == self._story[: label.rows]
        return "" if told else f"{file.name} holds {len(entries)} entries that are not how the story begins"


class BackupJudge:
    """After a cut in `write_backups`: the record as RecordJudge has it, and both folders of backups.

    Every file with a backup's name is a good backup. Those that were there when the last backup was acknowledged are
    there still, but for such as the next one lets go of, and only once that next one stands. The next backup works.
    """

    def __init__(self, log: Log) -> None:
        self._record = RecordJudge(CASTS)
        self._contents = BackupContents(a_day(CASTS))
        marks = [line for op in log.ops if op.kind is Kind.MARKED for line in op.data.decode().splitlines()]
        before = {Path(name).name for name in log.before if Path(name).parent == Path(SHELF)}
        self._shelves = {place: [first, *_shelves(marks, place)] for place, first in ((SHELF, before), (STICK, set()))}

    def __call__(self, folder: Path, acknowledged: Sequence[str]) -> Finding:
        known = [words.split()[1] for words in acknowledged if words.startswith("entry")]
        found = self._record(folder, known or [str(BEFORE_DAYS * A_DAY)])
        if found.outcome is not Outcome.KEPT:
            return found
        for place, shelves in self._shelves.items():
            found = self._shelf(folder, place, shelves, len(_shelves(acknowledged, place)))
            if found.outcome is not Outcome.KEPT:
                return found
        made = shelf_in(folder).make(day(100), "work goes on")
        wrong = self._contents.wrong(made.file)
        return Finding(Outcome.DAMAGED, f"the next backup: {wrong}") if wrong else Finding(Outcome.KEPT)

    def _shelf(self, folder: Path, place: str, shelves: list[set[str]], count: int) -> Finding:
        there = {file.name for file in (folder / place).glob("[!.]*.zip")}
        for name in sorted(there):
            if wrong := self._contents.wrong(folder / place / name):
                return Finding(Outcome.DAMAGED, f"{place}: {wrong}")
        if there != {one.file.name for one in shelf_in(folder, place).all()}:
            return Finding(Outcome.DAMAGED, f"{place}: good files are not listed")
        last, following = shelves[count], shelves[min(count + 1, len(shelves) - 1)]
        needed = last & following if following <= there | last else last
        if missing := needed - there:
            return Finding(Outcome.LOST, f"{place} has lost {sorted(missing)}")
        return Finding(Outcome.KEPT)


def _shelves(marks: Sequence[str], place: str) -> list[set[str]]:
    return [set(words.split()[2:]) for words in marks if words.startswith(f"shelf {place} ")]
