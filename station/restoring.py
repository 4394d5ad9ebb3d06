"""Restoring on request, with the station stopped; and whether anything runs that must not be interrupted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from station.core.alarms import any_runs
from station.core.events import Entry, RecordRestored
from station.core.fold import replayed
from station.core.moment import Moment
from station.errors import LedgerFault, Refused
from station.keeping import make_folder
from station.store import journal
from station.store.backup.contents import RECORD
from station.store.backup.packing import Backup, check
from station.store.backup.photos import bring_back
from station.store.backup.shelf import BackupShelf
from station.store.chain import entry_of
from station.store.engines import open_reader
from station.store.faults import told_as_faults
from station.store.ledger import LOCK_FILE, SqlLedger
from station.store.lock import StationLock
from station.store.rescue.plan import Rescue, plan_rescue
from station.store.rescue.restore import bring_back_small_files, give_to_owner, restore
from station.store.verify import verify
from station.store.witness import WITNESS_FILE, Witness
from station.texts import t, tn


def restored_on_request(shelf: BackupShelf, file: Path | None, instead: bool, at: Moment) -> Iterator[str]:
    """Restore, saying each step in a sentence. Raises Refused or LedgerFault; then the record is as it was.

    `file` is the backup to begin from, None for the newest good one. `instead`: go back to `file` although the
    present record is whole.
    """
    state_dir = shelf.belongings.state_dir
    with told_as_faults(state_dir):
        make_folder(state_dir)
        lock = StationLock(state_dir / LOCK_FILE)
    try:
        base = None if file is None else Backup(file, check(file))
        rows = _whole_rows(state_dir)
        if rows is not None and base is None:
            yield t("The record is whole: {rows} rows. There is nothing to restore.", rows=rows)
            yield from _photos_back(state_dir, (shelf.folder,))
            return
        if rows is not None and not instead:
            assert base is not None
            raise Refused(
                t(
                    "The record in {folder} is whole and has {rows} rows; the backup has {backed_up}.",
                    folder=state_dir,
                    rows=rows,
                    backed_up=base.label.rows,
                ),
                t("Nothing was changed. `--instead` goes back to the backup and keeps the present record aside."),
            )
        seen = Witness(state_dir / WITNESS_FILE).read()
        if rows is not None and base is not None:
            rescue = Rescue(base, (), rows)
        else:
            rescue = plan_rescue(state_dir, shelf, witnessed=0 if seen is None else seen.seq, base=base)
        if rescue.end == 0:
            raise Refused(
                t("There is nothing to restore in {folder}: no good backup, and no readable row.", folder=state_dir),
                t("Name a backup file."),
            )
        yield rescue.words()
        # First: with the record in place nobody would begin again, should this be cut short.
        for brought in bring_back_small_files(rescue, state_dir):
            yield t("Brought back: {file}.", file=brought)
        done = restore(rescue, state_dir, at)
        aside = "" if done.set_aside is None else done.set_aside.name
        with SqlLedger(state_dir, lock) as ledger:
            told = RecordRestored(done.rows, done.lost, done.base, aside, t("command line"))
            ledger.write([Entry(told, at)])
        places = [shelf.folder] if rescue.base is None else [rescue.base.file.parent, shelf.folder]
        yield from _photos_back(state_dir, places)
        restored = t("The record is restored: {rows} rows.", rows=done.rows)
        yield restored + " " + t("The earlier files are in {folder}.", folder=aside) if aside else restored
    finally:
        lock.release()


def _photos_back(state_dir: Path, places: Sequence[Path]) -> Iterator[str]:
    if back := bring_back(state_dir / RECORD, state_dir, places):
        give_to_owner(state_dir)
        yield t("Photos brought back: {n}.", n=back)


def what_runs(record: Path) -> str:
    """What must not be interrupted now, in a sentence; empty when nothing. Raises LedgerFault."""
    verdict = verify(record)
    if not verdict.ok:
        raise LedgerFault(t("The record is damaged. {why}", why=verdict.words), t("Restore it before anything else."))
    engine = open_reader(record)
    try:
        with told_as_faults(record):
            standing = replayed(entry_of(row) for row in journal.all_rows(engine))
    finally:
        engine.dispose()
    if standing.bench is not None:
        return t("Refused: cast {number} is at the bench. Finish it or give it up first.", number=standing.bench.number)
    if any_runs(standing):
        numbers = ", ".join(str(cast.number) for cast in standing.casts)
        return tn(
            "Refused: clocks of cast {numbers} still run. Wait until they have ended.",
            "Refused: clocks of casts {numbers} still run. Wait until they have ended.",
            len(standing.casts),
            numbers=numbers,
        )
    return ""


def _whole_rows(state_dir: Path) -> int | None:
    """Rows of the record in place; None when it is damaged, empty or not there."""
    if not (state_dir / RECORD).is_file() or not (state_dir / RECORD).stat().st_size:
        return None
    try:
        verdict = verify(state_dir / RECORD)
    except LedgerFault:
        return None
    return verdict.rows if verdict.ok else None
