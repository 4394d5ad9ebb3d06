"""A scribe as a test needs it."""

from __future__ import annotations

from pathlib import Path

from station.store.backup.contents import Belongings
from station.store.backup.shelf import BackupShelf
from station.store.ledger import SqlLedger
from station.store.scribe import Scribe
from station.testing import ScriptedClock

WITHIN_S = 20.0


def scribe_on(  # type: ignore[no-untyped-def]
    state: Path, make=SqlLedger, patience_s: float = WITHIN_S, clock: ScriptedClock | None = None
) -> Scribe:
    """A scribe of the record in `state`; `clock` says how long its disk takes."""
    clock = clock or ScriptedClock()
    shelf = BackupShelf(Belongings(state), state / "backups", "0.1")
    return Scribe(state, shelf, lambda: None, lambda: clock.now().boot_s, patience_s=patience_s, make=make)
