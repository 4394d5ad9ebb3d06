"""How the record, its backups and the card fare. Pure: values in, a word and a sentence out."""

from __future__ import annotations

from station.core.moment import Moment
from station.phone.record_view import LITTLE_SPACE, RecordView
from station.phone.station_view import Fare, Part
from station.store.backup.due import nothing_left_the_card

MIB = 1024 * 1024
_OLD_BACKUP_DAYS = 7


def record_part(view: RecordView) -> Part:
    """Whether the record is whole and takes what is written."""
    if view.damage:
        return Part("Record", Fare.WRONG, f"{view.damage} The bench goes on from memory.", "/record")
    if view.unsaved:
        entries = "1 entry is" if view.unsaved == 1 else f"{view.unsaved} entries are"
        return Part("Record", Fare.WRONG, f"{entries} kept in memory and not on disk yet.", "/record")
    if view.restored:
        return Part("Record", Fare.LOOK, "It was restored, and nobody has read yet what was lost.", "/record")
    words = view.checked or "Nothing is known to be wrong; it is read in full once a day."
    return Part("Record", Fare.WELL, words, "/record")


def backups_part(view: RecordView, now: Moment) -> Part:
    """How old the newest backup is, and whether one lies somewhere else than on this card."""
    if not view.backups:
        return Part("Backups", Fare.OFF, "There is none yet. One is made each day, after the first cast.", "/record")
    newest, oldest = view.backups[0], view.backups[-1]
    words = f"The newest is of {newest.made:%Y-%m-%d %H:%M} UTC."
    nag = nothing_left_the_card(view.left_at, oldest.made, now)
    if nag:
        return Part("Backups", Fare.LOOK, f"{words} {nag}", "/record")
    if now.trusted and newest.sure and (now.wall - newest.made).days >= _OLD_BACKUP_DAYS:
        return Part("Backups", Fare.LOOK, f"{words} Since then nothing was written, or none could be made.", "/record")
    left = "No copy has left the card yet."
    if view.left_at is not None:
        left = f"A copy last left the card on {view.left_at:%Y-%m-%d %H:%M} UTC."
    return Part("Backups", Fare.WELL, f"{words} {left}", "/record")


def card_part(view: RecordView) -> Part:
    """Free space, and what was written today."""
    written = view.written[0][1] if view.written else None
    told = "" if written is None else f" {written / MIB:.2f} MiB were written today."
    if view.free is None:
        return Part("Card", Fare.UNKNOWN, f"How much space is free is not known.{told}", "/record")
    words = f"{view.free // MIB} MiB are free.{told}"
    if view.free < LITTLE_SPACE:
        return Part("Card", Fare.LOOK, f"{words} Free some space before the card is full.", "/record")
    return Part("Card", Fare.WELL, words, "/record")
