"""A writer to be watched: writes entries again and again, each time as ordered on a disk that fails in another way.

    python -m tests.faults.write_through_faults FOLDER ENTRIES [PRAGMA ...]

Takes orders from stdin, one a line, as JSON: {"at", "errno", "sticky", "room", "made", "forgets"} (see shim_arm in
shim.c), and answers each with a line of JSON (`obey`). Each order has a folder of its own; `made` says that the record
is in it before calls are counted, `forgets` that what was not taken is not kept: the control. A disk that stays away
is back once every entry was tried; what waits is then written. As in the station's loop, waiting entries go first, and
a fault is kept as its sentence; anything else is a `bug`.
"""

from __future__ import annotations

import ctypes
import json
import shutil
import sys
import traceback
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

from station.core.events import Entry
from station.errors import LedgerFault
from station.store.backup.contents import RECORD
from station.store.ledger import SqlLedger
from station.store.verify import verify
from tests.faults.overlay import laid_over
from tests.store.stories import a_day

TRIES: Final = 3
"""How often the writer tries again after the last entry: a fault may fall on the first of these."""

_SHIM: Final = ctypes.CDLL(None)


@dataclass(slots=True)
class Station:
    """What the station does with its record, told in a few lines: open it, write, keep what is not taken."""

    folder: Path
    forgets: bool
    sentences: list[str] = field(default_factory=list)
    waiting: list[Entry] = field(default_factory=list)
    ledger: SqlLedger | None = None

    def take(self, *entries: Entry) -> None:
        """Write what waits and these. A record that cannot be opened is tried again at the next entry."""
        self.waiting += entries
        try:
            if self.ledger is None:
                self.ledger = SqlLedger(self.folder)
            self.ledger.write(tuple(self.waiting))
        except LedgerFault as fault:
            self.sentences.append(fault.sentence())
            if not self.forgets:
                return
        self.waiting.clear()

    def close(self) -> None:
        if self.ledger is not None:
            self.ledger.close()


def _arm(at: int = 0, errno: int = 0, sticky: int = 0, room: int = -1, back: Path | None = None) -> None:
    there = None if back is None else str(back).encode()
    _SHIM.shim_arm(ctypes.c_long(at), errno, sticky, there, ctypes.c_long(room))


def obey(order: dict[str, Any], folder: Path, template: Path, story: list[Entry]) -> dict[str, Any]:
    """Carry out one order.

    The answer: `faults` injected in `calls`, the `sentences` told, how many entries were `kept` in order at the end,
    what is wrong with the record (`verdict`), and the traceback of a `bug`; the last two are empty when all is well.
    """
    back = folder.parents[1] / f"{folder.name}-back"  # outside of what is watched: nothing fails there
    station, bug = Station(folder / "state", order.pop("forgets")), ""
    shutil.copytree(template, folder) if order.pop("made") else folder.mkdir()
    _arm(**order, back=back)
    try:
        for entry in story:
            station.take(entry)
        back.touch()
        for _ in range(TRIES):
            station.take()
        station.close()
    except Exception:
        bug = traceback.format_exc()
    calls, faults = _SHIM.shim_calls(), _SHIM.shim_faults()
    _arm()
    station.close()
    with SqlLedger(folder / "state") as ledger:
        kept = list(ledger.entries())
    said = verify(folder / "state" / RECORD)
    shutil.rmtree(folder)
    return {
        "calls": calls,
        "faults": faults,
        "sentences": station.sentences,
        "kept": len(kept) if kept == [entry for entry in story if entry in kept] else -1,
        "verdict": "" if said.ok else said.words,
        "bug": bug,
    }


def main(scratch: Path, entries: int, pragmas: list[str]) -> None:
    """Obey until stdin ends."""
    story, template = list(a_day(1 + entries // 10))[:entries], scratch / "template"
    with laid_over(pragmas):
        SqlLedger(template / "state").close()
        for number, line in enumerate(sys.stdin):
            folder = scratch / "watched" / f"run-{number}"
            folder.parent.mkdir(exist_ok=True)
            sys.stdout.write(json.dumps(obey(json.loads(line), folder, template, story)) + "\n")
            sys.stdout.flush()


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), sys.argv[3:])
