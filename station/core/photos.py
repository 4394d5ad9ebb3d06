"""Photos of a cast, open or long ended: that there is such a cast is all that the bench can tell."""

from __future__ import annotations

from station.core import messages as msg
from station.core.photo_events import PhotoAdded, PhotoRemoved
from station.core.turn import Turn
from station.errors import Refused
from station.texts import t


def add_photo(turn: Turn, told: msg.AddPhoto) -> None:
    """Let it be a fact that the photo shows the cast. Raises Refused when there was no such cast yet."""
    _known(turn, told.number)
    turn.record(
        PhotoAdded(told.number, told.name, told.digest, told.small, told.wide, told.high, told.caption.strip(), told.by)
    )


def remove_photo(turn: Turn, told: msg.RemovePhoto) -> None:
    """Let it be a fact that somebody does not want the photo shown. Raises Refused when there was no such cast."""
    _known(turn, told.number)
    turn.record(PhotoRemoved(told.number, told.name, told.by))


def _known(turn: Turn, number: int) -> None:
    if not 1 <= number <= turn.standing.last_number:
        raise Refused(t("There is no cast {number}.", number=number), t("Look it up in the log."))
