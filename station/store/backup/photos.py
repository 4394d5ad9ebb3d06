"""Photos in backups and exports: each is copied once, into a folder beside what holds the record, and comes back.

A backup is made each day and holds the whole record; with the photos in it, the card would be worn out by pictures
that never change. The record in a backup holds their digests, so whatever lies beside it can be trusted or not.
"""

from __future__ import annotations

import errno
import os
import shutil
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from station.core.events import PhotoAdded
from station.keeping import make_folder, sync
from station.store.engines import open_reader
from station.store.faults import told_as_faults
from station.store.photos import FOLDER, digest_of, files_of, is_whole, told_in


@dataclass(frozen=True, slots=True)
class Carried:
    """`new` files were copied to a place, where there are `there` now."""

    new: int
    there: int


def carry(source: Path, place: Path) -> Carried:
    """Copy the photos of folder `source` that `place`, a folder of backups, does not have yet. Raises LedgerFault.

    On the same disk a second name for the same bytes does, which takes no room and wears nothing.
    """
    with told_as_faults(place):
        photos = _photos(source)
        if not photos:
            return Carried(0, 0)
        target = place / FOLDER
        make_folder(target)
        # What is there already is never replaced: the one here may be the damaged one.
        missing = [one for one in photos if not (target / one.name).exists()]
        for photo in missing:
            _put(photo, target / photo.name)
        if missing:
            sync(target)
        return Carried(len(missing), len(photos))


def hand_on(record: Path, place: Path, *, apart: bool) -> int:
    """Put the photos that the record tells of into the folder `place`; how many. Raises LedgerFault.

    One that is damaged or gone, or that somebody has removed, is left out. `apart`: as bytes of their own, for a
    folder in which somebody may change them.
    """
    with told_as_faults(place):
        photos = _told(record)
        source, target, there = record.parent / FOLDER, place / FOLDER, 0
        if photos:
            make_folder(target)
        for told in photos:
            here, new = files_of(source, told.name), files_of(target, told.name)
            if is_whole(here.picture, told.digest) and is_whole(here.small, told.small):
                _put(here.picture, new.picture, apart=apart)
                _put(here.small, new.small, apart=apart)
                there += 1
        if photos:
            sync(target)
    return there


def bring_back(record: Path, state_dir: Path, places: Sequence[Path], *, apart: bool = False) -> int:
    """Bring back the photos that the record tells of and that are damaged or gone, out of folders of backups.

    A damaged file stays under another name. Gives how many photos were brought back. Raises LedgerFault.
    `apart`: as bytes of their own, from a folder in which somebody may change them.
    """
    brought = 0
    with told_as_faults(state_dir):
        for told in _told(record):
            here = files_of(state_dir / FOLDER, told.name)
            files = ((here.picture, told.digest), (here.small, told.small))
            missing = [(file, digest) for file, digest in files if not is_whole(file, digest)]
            brought += bool(missing) and all(_brought(file, digest, places, apart) for file, digest in missing)
    return brought


def _brought(file: Path, digest: str, places: Sequence[Path], apart: bool) -> bool:
    """Whether a whole copy was found in one of the places, and is now where it belongs."""
    copies = (place / FOLDER / file.name for place in places)
    whole = next((copy for copy in copies if is_whole(copy, digest)), None)
    if whole is None:
        return False
    make_folder(file.parent)
    if file.exists():
        file.replace(file.with_name(f"{file.name}.damaged"))
    _put(whole, file, apart=apart)
    sync(file.parent)
    return True


def _told(record: Path) -> Sequence[PhotoAdded]:
    engine = open_reader(record)
    try:
        return told_in(engine)
    finally:
        engine.dispose()


def _photos(folder: Path) -> list[Path]:
    """The files of photos in a folder that are whole in their names."""
    return sorted(one for one in folder.glob("*.jpg") if not one.name.startswith("."))


def _put(source: Path, target: Path, *, apart: bool = False) -> None:
    """The file under its new name, on the disk when this returns but for the name; `apart`: never the same bytes."""
    if not apart and source.stat().st_dev == target.parent.stat().st_dev:
        try:
            os.link(source, target)
        except OSError:
            pass  # a disk that knows no second names
        else:
            return
    beside = target.with_name(f".{target.name}.new")
    try:
        with source.open("rb") as content, beside.open("wb") as out:
            shutil.copyfileobj(content, out, 1 << 20)
            out.flush()
            os.fsync(out.fileno())
        # Read back, for what it is worth: a stick may take what it does not keep.
        if digest_of(beside.read_bytes()) != digest_of(source.read_bytes()):
            raise OSError(errno.EIO, "the copy differs from what was copied")
        beside.replace(target)
    finally:
        beside.unlink(missing_ok=True)
