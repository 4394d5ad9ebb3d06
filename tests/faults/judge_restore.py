"""The judge of what a power cut left of a restoring: the damaged files are kept, and beginning again ends it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain
from pathlib import Path

from station.core.events import RecordRestored
from station.core.fold import replayed
from station.errors import StationError
from station.restoring import restored_on_request
from station.store.ledger import SqlLedger
from station.store.rescue.places import SET_ASIDE
from station.store.rescue.plan import plan_rescue
from station.store.scribe import Scribe
from station.store.verify import verify
from tests.faults.shim import Log
from tests.faults.survey import Finding, Outcome
from tests.faults.write_restore import AT, DAY, LOG, RECORD, SAVED, SMALL, shelf_in

KEPT = Finding(Outcome.KEPT)


class RestoreJudge:
    """After a cut in `write_restore`: the damaged files are whole, in place or set aside; the next start sees the
    damage or a restored record; restoring again ends with every row of the backup and all that was whole beside it.
    """

    def __init__(self, log: Log, rows: int) -> None:
        self._damaged = {name: log.before[f"state/{name}"] for name in (RECORD, LOG)}
        self._rows = rows

    def __call__(self, folder: Path, acknowledged: Sequence[str]) -> Finding:
        if not self._damaged_set_is_kept(folder / "state"):
            return Finding(Outcome.LOST, "the damaged files are neither in place nor set aside")
        try:
            for step in (self._next_start, self._again):
                found = step(folder, bool(acknowledged))
                if found.outcome is not Outcome.KEPT:
                    return found
        except StationError as fault:
            return Finding(Outcome.DAMAGED, fault.sentence())
        if not self._damaged_set_is_kept(folder / "state"):
            return Finding(Outcome.LOST, "restoring again has lost the damaged files")
        return KEPT

    def _damaged_set_is_kept(self, state: Path) -> bool:
        return any(
            all((place / name).is_file() and (place / name).read_bytes() == was for name, was in self._damaged.items())
            for place in chain([state], state.glob(f"{SET_ASIDE}*"))
        )

    def _next_start(self, folder: Path, done: bool) -> Finding:
        with Scribe(folder / "state", shelf_in(folder), lambda: None, lambda: 0.0, patience_s=60) as scribe:
            standing, health = scribe.standing(), scribe.health()
        if health.damage and done:
            return Finding(Outcome.LOST, f"restored, and yet: {health.damage}")
        if health.rescue is not None:
            enough = health.rescue.end >= self._rows
            return KEPT if enough else Finding(Outcome.LOST, f"{health.rescue.end} of {self._rows} rows to be had")
        if not done and standing == replayed(DAY[: self._rows]):
            return KEPT
        return self._restored(folder)

    def _again(self, folder: Path, _done: bool) -> Finding:
        for _ in restored_on_request(shelf_in(folder), None, False, AT):
            pass
        if not (folder / "state" / SMALL).exists():
            return Finding(Outcome.LOST, f"{SMALL}, which the backup holds, was not brought back")
        return self._restored(folder)

    def _restored(self, folder: Path) -> Finding:
        verdict = verify(folder / "state" / RECORD)
        if not verdict.ok:
            return Finding(Outcome.DAMAGED, verdict.words)
        with SqlLedger(folder / "state") as ledger:
            entries = list(ledger.entries())
        if entries[: self._rows] != list(DAY[: self._rows]):
            return Finding(Outcome.LOST, f"{len(entries)} entries that are not the {self._rows} to be restored")
        told = all(isinstance(entry.event, RecordRestored) for entry in entries[self._rows :])
        return KEPT if told else Finding(Outcome.DAMAGED, "entries of nobody after the restored ones")


def rows_to_be_had(folder: Path) -> int:
    """How many rows a restoring without a cut brings back: at least the backup's."""
    rescue = plan_rescue(folder / "state", shelf_in(folder))
    assert rescue.end >= SAVED
    return rescue.end
