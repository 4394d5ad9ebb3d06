"""What the pages of the log are given to show and take photos, and how a photo stands on a cast's page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import BinaryIO, Final, Protocol

from station.phone.words import day_text
from station.records import PhotoRecord
from station.texts import t

_SMALL_PX: Final = 320


class PhotoDesk(Protocol):
    """Called from many threads. Every refusal is a StationError."""

    def add(self, number: int, file: BinaryIO, caption: str, by: str) -> None:
        """Take a photo of a cast in. Takes a second or more."""
        ...

    def remove(self, number: int, name: str, by: str) -> None:
        """Show a photo of a cast no more."""
        ...

    def picture(self, number: int, name: str, *, small: bool) -> bytes | None:
        """A photo that is shown of this cast, as JPEG; None when there is none of this name."""
        ...


@dataclass(frozen=True, slots=True)
class PhotoView:
    """A photo in the grid of a cast: its addresses, the sides of the small one, and its words."""

    name: str
    place: int
    page: str
    small: str
    wide: int
    high: int
    alt: str
    caption: str
    more: str


def photo_views(number: int, photos: Sequence[PhotoRecord]) -> tuple[PhotoView, ...]:
    """The photos of cast `number` that are shown."""
    shown = [one for one in photos if one.removed is None]
    return tuple(_view(number, place, one) for place, one in enumerate(shown, 1))


def _view(number: int, place: int, one: PhotoRecord) -> PhotoView:
    shrunk = min(1.0, _SMALL_PX / max(one.wide, one.high))
    added, by = one.added, t(one.added.by)
    return PhotoView(
        name=one.name,
        place=place,
        page=f"/log/{number}/photos/{one.name}.jpg",
        small=f"/log/{number}/photos/small/{one.name}.jpg",
        wide=max(1, round(one.wide * shrunk)),
        high=max(1, round(one.high * shrunk)),
        alt=one.caption or t("Photo {place} of cast {number}, without a caption", place=place, number=number),
        caption=one.caption,
        more=f"{day_text(added.at.wall)}, {by}" if added.at.sure else t("{by}, clock not set", by=by),
    )
