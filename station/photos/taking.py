"""Taking a photo in: its file goes to a process of its own, and two plain pictures or a sentence come back.

Nothing that opens pictures is imported here. Whatever that process does (hang, eat memory, die), this one goes on.
"""

from __future__ import annotations

import json
import os
from dataclasses import dataclass
from typing import Any, BinaryIO, assert_never

from station.confined.asking import GivenUp, Task, Why, answer, on_disk
from station.confined.limits import MB
from station.errors import Fault, Refused
from station.photos.kinds import ACCEPTED, HEAD, SMALLER, PhotoKind, judged
from station.photos.limits import ANSWER_BYTES, CHILD_BYTES, LONGEST_PX, WALL_S
from station.texts import N_, t


class PhotoFault(Fault, OSError):
    """The process that opens photos cannot be started, or ended without an answer."""

    hint = N_("Try again; if it happens again, send the photo in another format.")


@dataclass(frozen=True, slots=True)
class Taken:
    """What is kept of a photo: the picture and a small one, both JPEG without anything beside, and its sides (px)."""

    picture: bytes
    small: bytes
    wide: int
    high: int


def take(file: BinaryIO, *, wall_s: float = WALL_S) -> Taken:
    """What is kept of the photo in `file`. Takes a second or more.

    Raises Refused when it is no picture that is taken, PhotoFault when opening it fails.
    """
    with on_disk(file) as disk:
        number = disk.fileno()
        kind = judged(os.pread(number, HEAD, 0), os.fstat(number).st_size)
        told, pictures = _asked(number, kind, wall_s)
    return _taken(told, pictures)


def peak_kib(file: BinaryIO, kind: PhotoKind) -> int:
    """Most memory that opening it took, for the benchmark."""
    return int(_asked(file.fileno(), kind, WALL_S)[0]["peak_kib"])


def _asked(file: int, kind: PhotoKind, wall_s: float) -> tuple[dict[str, Any], bytes]:
    try:
        line, pictures = answer(Task("station.photos.child", kind.name, ANSWER_BYTES, wall_s), file)
    except GivenUp as none:
        match none.why:
            case Why.NOT_STARTED:
                raise PhotoFault(t("Opening the photo could not be started ({why}).", why=none.told)) from none
            case Why.LATE | Why.WORKED_TOO_LONG:
                raise Refused(t("Opening it took too long and was given up."), t(SMALLER)) from none
            case Why.SILENT:
                raise PhotoFault(t("Opening the photo ended without an answer ({why}).", why=none.told)) from none
            case _:
                assert_never(none.why)
    return _told(line, kind), pictures


def _told(line: bytes, kind: PhotoKind) -> dict[str, Any]:
    try:
        told = dict(json.loads(line))
    except (ValueError, TypeError):
        raise PhotoFault(t("Opening the photo gave an answer that cannot be read.")) from None
    if "refused" in told:
        raise Refused(told["refused"], told["hint"])
    if "memory" in told:
        text = N_("Opening it would take more than the {most} MB of memory there are.")
        raise Refused(t(text, most=CHILD_BYTES // MB), t(SMALLER))
    if "unreadable" in told:
        text = N_("It begins like a {kind} picture, but it did not arrive whole, or it is damaged.")
        raise Refused(t(text, kind=kind.value), t("Send it again, or take another.") + " " + t(ACCEPTED))
    return told


def _taken(told: dict[str, Any], pictures: bytes) -> Taken:
    """The answer, believed only as far as it fits: the process had a stranger's file in its hands."""
    wide, high, length, rest = (told.get(name) for name in ("wide", "high", "picture", "small"))
    for number in (wide, high, length, rest):
        if not isinstance(number, int) or number <= 0:
            raise PhotoFault(t("Opening the photo gave an answer that makes no sense."))
    assert isinstance(wide, int)
    assert isinstance(high, int)
    assert isinstance(length, int)
    assert isinstance(rest, int)
    picture, small = pictures[:length], pictures[length:]
    fits = len(picture) == length and len(small) == rest and max(wide, high) <= LONGEST_PX
    if not fits or not all(one.startswith(b"\xff\xd8\xff") for one in (picture, small)):
        raise PhotoFault(t("Opening the photo gave an answer that makes no sense."))
    return Taken(picture, small, wide, high)
