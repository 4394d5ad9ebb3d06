"""Changing places: a new record goes where the present one lies, and that one is set aside, never thrown away."""

from __future__ import annotations

import os
import shutil
from contextlib import closing
from pathlib import Path
from typing import Final

from sqlalchemy import Engine

from station.core.moment import Moment
from station.keeping import sync
from station.store.backup.contents import RECORD
from station.store.rescue.places import SET_ASIDE, parts
from station.store.witness import WITNESS_FILE, Witness

NEW: Final = ".record.db.new"
"""Where a new record is made, beside the present one."""


def clear_new(state_dir: Path) -> Path:
    """Where to make the new record; what an earlier attempt left there is gone. Raises OSError."""
    new = state_dir / NEW
    for leftover in parts(new):
        leftover.unlink()
    return new


def into_one_file(writer: Engine) -> None:
    """The database behind a writer engine is a file of its own: no write-ahead log belongs to it."""
    with closing(writer.raw_connection()) as db:
        cursor = db.cursor()
        cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchall()
        cursor.execute("PRAGMA journal_mode=DELETE").fetchall()


def put_in_place(new: Path, state_dir: Path, at: Moment) -> Path | None:
    """Put the new record, which is on the disk, in place; gives the folder with the earlier files, if any were.

    The caller makes the witness forget last: should this be cut short, the next start knows that something is amiss.
    """
    record = state_dir / RECORD
    # Without its log the old record may look whole: until it is replaced, only the note of its end tells.
    Witness(state_dir / WITNESS_FILE).settle()
    aside = _set_aside(state_dir, at)
    for part in parts(record):
        if part != record:
            part.unlink()  # a log of the old record must never meet the new one
    sync(state_dir)
    new.replace(record)
    sync(state_dir)
    return aside


def _set_aside(state_dir: Path, at: Moment) -> Path | None:
    """Keep the present files under another name: by a second name for the same bytes, which takes no room."""
    present = parts(state_dir / RECORD)
    if not present:
        return None
    stem = f"{SET_ASIDE}{at.wall:%Y%m%d-%H%M%S}"
    folder = next(
        place for n in range(1, 1000) if not (place := state_dir / (stem if n == 1 else f"{stem}-{n}")).exists()
    )
    folder.mkdir()
    for part in present:
        try:
            os.link(part, folder / part.name)
        except OSError:
            shutil.copyfile(part, folder / part.name)
            sync(folder / part.name)
    sync(folder)
    sync(state_dir)
    return folder
