"""The desk of the photos: a file is made a plain picture, kept beside the record, and then told to the bench."""

from __future__ import annotations

import logging
import shutil
import threading
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO, Final, NoReturn, Protocol

from station.core.messages import AddPhoto, Command, RemovePhoto
from station.core.photo_events import MOST_OF_A_CAST
from station.core.snapshot import Snapshot
from station.errors import LedgerFault, Refused
from station.phone.record_view import LITTLE_SPACE
from station.photos.taking import Taken, take
from station.records import PhotoRecord
from station.store.archive import Archive
from station.store.photos import digest_of, files_of, forget, keep
from station.texts import N_, t

log = logging.getLogger("tarebell.photos")

_PATIENCE_S: Final = 60.0
"""How long a photo waits for those before it: one is opened at a time, for the memory that the bench needs."""


class Taking(Protocol):
    """Makes a plain picture of a photo's file. Takes a second or more; raises StationError with a sentence."""

    def __call__(self, file: BinaryIO, /) -> Taken:
        """What is kept of it."""
        ...


@dataclass(frozen=True, slots=True)
class PhotoTools:
    """What the desk works with. `take` opens a photo, `ask` hands a command to the bench, `seen` is its last state."""

    folder: Path
    archive: Archive
    take: Taking
    ask: Callable[[Command], int | None]
    seen: Callable[[], Snapshot | None]


class PhotoDesk:
    """Implements `phone.photo_view.PhotoDesk`."""

    def __init__(self, tools: PhotoTools) -> None:
        self._tools = tools
        self._one_at_a_time = threading.Lock()

    def add(self, number: int, file: BinaryIO, caption: str, by: str) -> None:
        """Take a photo of a cast in; one that is there already is left at that. Raises Refused or Fault."""
        if not self._one_at_a_time.acquire(timeout=_PATIENCE_S):
            raise Refused(t("Other photos are still being opened."), t("Wait a minute, then send it again."))
        try:
            self._may_be_added(number)
            taken = self._tools.take(file)
            self._keep(number, taken, caption, by)
        finally:
            self._one_at_a_time.release()

    def remove(self, number: int, name: str, by: str) -> None:
        """Show a photo of a cast no more; its file stays. Raises Refused or Fault."""
        if self._shown(number, name) is None:
            raise Refused(t("There is no such photo of this cast any more."), t("Load the page again."))
        self._tools.ask(RemovePhoto(number, name, by))

    def picture(self, number: int, name: str, *, small: bool) -> bytes | None:
        """A photo that is shown of this cast; None when there is none of this name. Raises LedgerFault."""
        told = self._shown(number, name)
        if told is None:
            return None
        place = files_of(self._tools.folder, name)
        try:
            content = (place.small if small else place.picture).read_bytes()
        except OSError as why:
            raise LedgerFault(
                t("The file of this photo cannot be read ({why}).", why=why.strerror), t("A backup may have it.")
            ) from why
        if digest_of(content) != (told.small if small else told.digest):
            raise LedgerFault(t("The file of this photo is damaged."), t("A backup may have it whole."))
        return content

    def _may_be_added(self, number: int) -> None:
        if not self._tools.archive.number(number):
            raise Refused(t("There is no cast {number}.", number=number), t("Look it up in the log."))
        seen = self._tools.seen()
        if seen is not None and seen.unsaved:
            words = t("The card takes nothing just now, and the bench comes first.")
            raise Refused(words, t("Send the photo again later."))
        if sum(one.removed is None for one in self._tools.archive.photos(number)) >= MOST_OF_A_CAST:
            words = t("Cast {number} has {most} photos, the most it may have.", number=number, most=MOST_OF_A_CAST)
            raise Refused(words, t("Remove one first."))
        free = shutil.disk_usage(self._tools.folder.parent).free
        if free < LITTLE_SPACE:
            text = N_("The card is nearly full: {free} MiB are left, and the bench needs them.")
            words = t(text, free=free // 1024 // 1024)
            raise Refused(words, t("Make room on the card, then send the photo again."))

    def _keep(self, number: int, taken: Taken, caption: str, by: str) -> None:
        digest, small = digest_of(taken.picture), digest_of(taken.small)
        if any(one.digest == digest and one.removed is None for one in self._tools.archive.photos(number)):
            return  # sent twice by an impatient thumb
        name = keep(self._tools.folder, taken.picture, taken.small)
        try:
            self._tools.ask(AddPhoto(number, name, digest, small, taken.wide, taken.high, caption, by))
        except Refused:
            forget(self._tools.folder, name)
            raise
        log.info("photo added cast=%d name=%s bytes=%d", number, name, len(taken.picture))

    def _shown(self, number: int, name: str) -> PhotoRecord | None:
        photos = self._tools.archive.photos(number)
        return next((one for one in photos if one.name == name and one.removed is None), None)


def taking(*, safe: bool) -> Taking:
    """How photos are opened; in safe mode not at all."""
    if safe:
        return _no_photo
    return take


def _no_photo(_file: BinaryIO) -> NoReturn:
    raise Refused(t("No photo is taken in safe mode."), t("Stop the station and start it again to leave safe mode."))
