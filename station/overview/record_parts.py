"""How the record, its backups and the card fare. Pure: values in, a word and a sentence out."""

from __future__ import annotations

from station.core.moment import Moment
from station.phone.record_view import LITTLE_SPACE, RecordView
from station.phone.station_view import Fare, Part
from station.store.backup.due import nothing_left_the_card
from station.texts import number, t, tn

MIB = 1024 * 1024
_OLD_BACKUP_DAYS = 7


def record_part(view: RecordView) -> Part:
    """Whether the record is whole and takes what is written."""
    if view.damage:
        return Part(
            t("Record"), Fare.WRONG, t("{damage} The bench goes on from memory.", damage=view.damage), "/record"
        )
    if view.unsaved:
        entries = tn(
            "{n} entry is kept in memory and not on disk yet.",
            "{n} entries are kept in memory and not on disk yet.",
            view.unsaved,
        )
        return Part(t("Record"), Fare.WRONG, entries, "/record")
    if view.restored:
        return Part(t("Record"), Fare.LOOK, t("It was restored, and nobody has read yet what was lost."), "/record")
    words = view.checked or t("Nothing is known to be wrong; it is read in full once a day.")
    return Part(t("Record"), Fare.WELL, words, "/record")


def backups_part(view: RecordView, now: Moment) -> Part:
    """How old the newest backup is, and whether one lies somewhere else than on this card."""
    if not view.backups:
        return Part(
            t("Backups"), Fare.OFF, t("There is none yet. One is made each day, after the first cast."), "/record"
        )
    newest, oldest = view.backups[0], view.backups[-1]
    words = t("The newest is of {made} UTC.", made=f"{newest.made:%Y-%m-%d %H:%M}")
    nag = nothing_left_the_card(view.left_at, oldest.made, now)
    if nag:
        return Part(t("Backups"), Fare.LOOK, f"{words} {nag}", "/record")
    if now.trusted and newest.sure and (now.wall - newest.made).days >= _OLD_BACKUP_DAYS:
        return Part(
            t("Backups"),
            Fare.LOOK,
            t("{words} Since then nothing was written, or none could be made.", words=words),
            "/record",
        )
    left = t("No copy has left the card yet.")
    if view.left_at is not None:
        left = t("A copy last left the card on {left_at} UTC.", left_at=f"{view.left_at:%Y-%m-%d %H:%M}")
    return Part(t("Backups"), Fare.WELL, f"{words} {left}", "/record")


def card_part(view: RecordView) -> Part:
    """Free space, and what was written today."""
    written = view.written[0][1] if view.written else None
    told = "" if written is None else t(" {written} MiB were written today.", written=number(written / MIB, ".2f"))
    if view.free is None:
        return Part(t("Card"), Fare.UNKNOWN, t("How much space is free is not known.{told}", told=told), "/record")
    words = t("{free} MiB are free.{told}", free=view.free // MIB, told=told)
    if view.free < LITTLE_SPACE:
        return Part(t("Card"), Fare.LOOK, t("{words} Free some space before the card is full.", words=words), "/record")
    return Part(t("Card"), Fare.WELL, words, "/record")
