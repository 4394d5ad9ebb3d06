"""A record with photos beside it, as the desk of the photos would leave them."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from station.core import events as ev
from station.core.moment import Moment
from station.store.ledger import SqlLedger
from station.store.photos import FOLDER, digest_of, files_of, keep
from tests.store.stories import a_day


@dataclass(frozen=True)
class Shot:
    """A photo: its name, and what its two files held when it was added."""

    name: str
    picture: bytes
    small: bytes


def add(ledger: SqlLedger, state: Path, number: int, caption: str = "the heel", at: Moment | None = None) -> Shot:
    """Keep a photo of a cast and tell the record."""
    picture, small = b"\xff\xd8\xff picture " + caption.encode(), b"\xff\xd8\xff small " + caption.encode()
    name = keep(state / FOLDER, picture, small)
    told = ev.PhotoAdded(number, name, digest_of(picture), digest_of(small), 1600, 1200, caption, "page (test phone)")
    ledger.write([ev.Entry(told, at or a_day()[-1].at)])
    return Shot(name, picture, small)


def remove(ledger: SqlLedger, number: int, name: str) -> None:
    """Tell the record that a photo is not to be shown."""
    ledger.write([ev.Entry(ev.PhotoRemoved(number, name, "page (other phone)"), a_day()[-1].at)])


def with_photos(state: Path, *casts: int) -> list[Shot]:
    """A record of three casts, and one photo of each of these."""
    with SqlLedger(state) as ledger:
        ledger.write(a_day())
        return [add(ledger, state, number, f"of cast {number}") for number in casts]


def picture_of(state: Path, shot: Shot) -> Path:
    """The file of the larger picture."""
    return files_of(state / FOLDER, shot.name).picture
