"""What the chores of the record have done, in words: restored, read and found whole, copied."""

from __future__ import annotations

from datetime import datetime

from station.texts import t, tn


def lost_words(lost: int) -> str:
    """How many rows are known to be lost."""
    return tn("{n} row is lost.", "{n} rows are lost.", lost) if lost else t("No row is known to be lost.")


def done_words(rows: int, lost: int) -> str:
    """The record was restored; how much of it is lost."""
    return t("The record is restored: {rows} rows. {lost}", rows=rows, lost=lost_words(lost))


def whole_words(rows: int, when: str) -> str:
    """The record was read in full, and nothing is wrong with it."""
    return tn(
        "The only row was read and found whole on {when}.",
        "All {n} rows were read and found whole on {when}.",
        rows,
        when=when,
    )


def copied_words(place: str, *, off_card: bool) -> str:
    """A backup was copied; whether that copy has left the card."""
    if off_card:
        return t("A copy is in {place}.", place=place)
    return t("A copy is in {place}. That is still the same card.", place=place)


def left_words(at: datetime, where: str) -> str:
    """When a copy last left the card, and where it went."""
    return t("A copy last left the card on {at} UTC, to {where}.", at=f"{at:%Y-%m-%d %H:%M}", where=where)
