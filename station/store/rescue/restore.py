"""Restoring: make the good record beside the damaged one, set the damaged one aside, and only then change places.

Whatever stops it half-way, the damaged files and the backups are still there, and restoring can begin again.
"""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Connection

from station.core.moment import Moment
from station.errors import LedgerFault
from station.keeping import make_folder, replace_whole, sync
from station.store import evidence, journal
from station.store.backup.contents import BESIDE, RECORD, SETTINGS
from station.store.backup.packing import unpacked
from station.store.chain import Row, entry_of
from station.store.engines import open_reader, open_writer
from station.store.faults import told_as_faults
from station.store.projection import project
from station.store.rescue.exchange import clear_new, into_one_file, put_in_place
from station.store.rescue.places import DONE, SET_ASIDE, sources
from station.store.rescue.plan import Rescue
from station.store.rescue.salvage import Trace, kept_traces
from station.store.traces import keep_saved
from station.store.verify import verified
from station.store.versions import bring_up_to_date
from station.store.witness import WITNESS_FILE, Witness
from station.texts import t


@dataclass(frozen=True, slots=True)
class Restored:
    """`rows` are in the record now, `lost` are known to be gone; the earlier files lie in `set_aside`, if any were."""

    rows: int
    lost: int
    set_aside: Path | None
    base: str


def restore(rescue: Rescue, state_dir: Path, at: Moment) -> Restored:
    """Put the rescued record in place. Nobody may have the record open to write. Raises LedgerFault."""
    with told_as_faults(state_dir):
        make_folder(state_dir)
        new = clear_new(state_dir)
        _make(rescue, state_dir, new)
        _check_whole(new, rescue.end)
        aside = put_in_place(new, state_dir, at)
        done = Restored(rescue.end, rescue.lost, aside, "" if rescue.base is None else rescue.base.file.name)
        mark_done(state_dir, done, at)
        # Last: should this be cut short, the next start still knows that something is amiss.
        Witness(state_dir / WITNESS_FILE).forget()
        give_to_owner(state_dir)
    return done


def bring_back_small_files(rescue: Rescue, state_dir: Path) -> list[Path]:
    """Sheets, scale and settings out of the backup, where there are none now; nothing there is replaced.

    Settings go into a folder of their own beside the record. Raises LedgerFault.
    """
    brought: list[Path] = []
    if rescue.base is None:
        return brought
    with unpacked(rescue.base.file) as (room, label), told_as_faults(state_dir):
        for name in label.files:
            kind, _, inner = name.partition("/")
            folder = {BESIDE: state_dir, SETTINGS: state_dir / "settings-from-backup"}.get(kind)
            if folder is not None and not (folder / inner).exists():
                replace_whole(folder / inner, (room / name).read_text(encoding="utf-8"))
                brought.append(folder / inner)
        give_to_owner(state_dir)
    return brought


def _make(rescue: Rescue, state_dir: Path, new: Path) -> None:
    if rescue.base is not None:
        with unpacked(rescue.base.file) as (room, _):
            shutil.copyfile(room / RECORD, new)
    saved = _traces(rescue.rows, sources(state_dir))
    writer, reader = open_writer(new), open_reader(new)
    try:
        bring_up_to_date(new, writer, reader)
        with writer.begin() as db:
            _put(db, rescue.rows, saved)
        into_one_file(writer)
    finally:
        writer.dispose()
        reader.dispose()
    sync(new)


def _check_whole(new: Path, rows: int) -> None:
    reader = open_reader(new)
    try:
        verdict = verified(reader)
    finally:
        reader.dispose()
    if not verdict.ok or verdict.rows != rows:
        words = t("The restored record is not whole: {why}", why=verdict.words)
        raise LedgerFault(words, t("Nothing was changed."))


def _traces(rows: Sequence[Row], places: Sequence[Path]) -> list[Trace]:
    casts = sorted({row.cast_number for row in rows if row.cast_number is not None})
    return [trace for place in places for trace in kept_traces(place, casts)]


def _put(db: Connection, rows: Sequence[Row], saved: Sequence[Trace]) -> None:
    journal.put(db, rows)
    for row in rows:
        project(db, row)
        evidence.note(db, entry_of(row).at, row)
    for number, step, points in saved:
        keep_saved(db, (number, step), points)


def give_to_owner(state_dir: Path) -> None:
    """What the administrator has made here belongs to whom the folder belongs, or the station could not write it."""
    owner = state_dir.stat()
    if os.geteuid() == 0 and owner.st_uid != 0:
        for place in state_dir.rglob("*"):
            if place.stat(follow_symlinks=False).st_uid == 0:
                os.chown(place, owner.st_uid, owner.st_gid, follow_symlinks=False)


def mark_done(state_dir: Path, done: Restored, at: Moment) -> None:
    """Say in every folder of earlier files that what was in them has been taken over. Raises LedgerFault."""
    told = {"rows": done.rows, "lost": done.lost, "base": done.base, "at": at.wall.isoformat()}
    for folder in state_dir.glob(f"{SET_ASIDE}*"):
        if not (folder / DONE).exists():
            replace_whole(folder / DONE, json.dumps(told, indent=1))
