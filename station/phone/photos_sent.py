"""Photos that came with a form: how much room they get, and how they are taken in, one by one."""

from __future__ import annotations

from collections.abc import Sequence
from typing import BinaryIO, Final, cast

from flask import Request
from werkzeug.datastructures import FileStorage

from station.core.photo_events import MOST_BYTES
from station.errors import Refused, StationError
from station.phone import guard, orders
from station.phone.photo_view import PhotoDesk
from station.texts import t

MOST_AT_ONCE: Final = 5 * MOST_BYTES
"""Of all photos that are sent together."""
FORM_BYTES: Final = 64 * 1024
"""What a form has around the files."""
LONGEST_CAPTION: Final = 200
_MB: Final = 1024 * 1024


def make_room(request: Request) -> None:
    """Let the form of this request be as large as photos are. Raises Locked: nobody else may send so much."""
    guard.needs_pairing()
    request.max_content_length = MOST_AT_ONCE + FORM_BYTES


def too_much() -> str:
    """The sentence for a form that was larger."""
    return t("That is more than {most} MB at once. Send fewer photos at a time.", most=MOST_AT_ONCE // _MB)


def chosen(request: Request) -> Sequence[FileStorage]:
    """The photos in a form."""
    return [one for one in request.files.getlist("photo") if one.filename]


def taken_in(desk: PhotoDesk, number: int, request: Request, by: str) -> list[str]:
    """Take the photos of a form in, for this cast; a sentence for each that was not. Raises Refused when none is."""
    caption = request.form.get("caption", "")
    words = orders.text(request.form, "caption", "", LONGEST_CAPTION) if caption.strip() else ""
    files = chosen(request)
    if not files:
        raise Refused(t("No photo was chosen."), t("Take one, or choose some that the phone has."))
    said: list[str] = []
    for place, file in enumerate(files, 1):
        try:
            desk.add(number, cast("BinaryIO", file.stream), words, by)
        except StationError as refusal:
            said.append(_not_added(place, len(files), file.filename or "", refusal.sentence()))
    return said


def _not_added(place: int, of: int, name: str, why: str) -> str:
    if of == 1:
        return t("The photo was not added. {why}", why=why)
    readable = "".join(c for c in name if c.isprintable())[:60]
    return t("Photo {place} of {of} (“{name}”) was not added. {why}", place=place, of=of, name=readable, why=why)
