"""The photos of the record: files beside it, whose digests its journal holds. So a damaged one is found.

A photo is a convenience, the journal is what counts: one that is damaged or gone makes no record a damaged one.
"""

from __future__ import annotations

import hashlib
import secrets
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from sqlalchemy import Engine, select

from station.core import events as ev
from station.errors import LedgerFault
from station.keeping import replace_whole
from station.records import PhotoRecord, RemarkRecord
from station.store.codec import decode
from station.store.evidence import Walls
from station.store.schema import journal
from station.texts import N_, Phrase, tn

FOLDER: Final = "photos"
"""Beside the record."""
PHOTO_KINDS: Final = (ev.PhotoAdded.__name__, ev.PhotoRemoved.__name__)


@dataclass(frozen=True, slots=True)
class Named:
    """The two files of a photo in a folder."""

    picture: Path
    small: Path


def files_of(folder: Path, name: str) -> Named:
    """Where the photo of this name lies in a folder of photos."""
    return Named(folder / f"{name}.jpg", folder / f"{name}-small.jpg")


def keep(folder: Path, picture: bytes, small: bytes) -> str:
    """Put both files of a new photo on the disk, whole or not at all; gives its name. Raises LedgerFault."""
    name = secrets.token_hex(8)
    place = files_of(folder, name)
    # The small one first: the picture is what everything else looks for.
    replace_whole(place.small, small)
    try:
        replace_whole(place.picture, picture)
    except LedgerFault:
        place.small.unlink(missing_ok=True)
        raise
    return name


def forget(folder: Path, name: str) -> None:
    """Let go of a photo that came into no record after all."""
    place = files_of(folder, name)
    place.picture.unlink(missing_ok=True)
    place.small.unlink(missing_ok=True)


def digest_of(content: bytes) -> str:
    """SHA-256 (FIPS 180-4) in hexadecimal."""
    return hashlib.sha256(content).hexdigest()


def is_whole(file: Path, digest: str) -> bool:
    """Whether the file is there and as it was when it was added."""
    try:
        with file.open("rb") as content:
            return hashlib.file_digest(content, "sha256").hexdigest() == digest
    except OSError:
        return False


def photos_of(entries: Iterable[ev.Entry], walls: Walls) -> tuple[PhotoRecord, ...]:
    """The photos that these entries of one cast tell of, in the order in which they came."""
    found: dict[str, PhotoRecord] = {}
    for entry in entries:
        match entry.event:
            case ev.PhotoAdded() as told:
                added = RemarkRecord(walls.shown(entry.at), Phrase(N_("photo added")), told.by)
                found[told.name] = PhotoRecord(
                    told.name, told.digest, told.small, told.wide, told.high, told.caption, added
                )
            case ev.PhotoRemoved(name=name, by=by) if name in found:
                removed = RemarkRecord(walls.shown(entry.at), Phrase(N_("photo removed")), by)
                found[name] = replace(found[name], removed=removed)
            case _:
                pass
    return tuple(found.values())


@dataclass(frozen=True, slots=True)
class PhotosFound:
    """`whole` photos are as they were added. `damaged`: the casts, ascending, of which one was changed or is gone."""

    whole: int = 0
    damaged: tuple[int, ...] = ()

    def words(self) -> str:
        """What a person must know of it, in sentences; empty when all is well."""
        if not self.damaged:
            return ""
        return tn(
            "Photos of cast {which} are damaged or gone. The record is not.",
            "Photos of casts {which} are damaged or gone. The record is not.",
            len(self.damaged),
            which=", ".join(map(str, self.damaged)),
        )


def told_in(engine: Engine) -> Sequence[ev.PhotoAdded]:
    """Every photo that the journal tells of and nobody has removed. Raises LedgerFault."""
    rows = select(journal.c.kind, journal.c.payload).where(journal.c.kind.in_(PHOTO_KINDS)).order_by(journal.c.seq)
    found: dict[str, ev.PhotoAdded] = {}
    with engine.begin() as db:
        for kind, payload in db.execute(rows):
            match decode(kind, payload):
                case ev.PhotoAdded() as told:
                    found[told.name] = told
                case ev.PhotoRemoved(name=name):
                    found.pop(name, None)
                case _:
                    pass
    return tuple(found.values())


def looked_through(engine: Engine, folder: Path, *, reading: bool = True) -> PhotosFound:
    """Hold every photo against its digest; without `reading` only see whether it is there. Raises LedgerFault."""
    whole = 0
    damaged: set[int] = set()
    for told in told_in(engine):
        place = files_of(folder, told.name)
        pairs = ((place.picture, told.digest), (place.small, told.small))
        if all(is_whole(file, digest) if reading else file.is_file() for file, digest in pairs):
            whole += 1
        else:
            damaged.add(told.number)
    return PhotosFound(whole, tuple(sorted(damaged)))
