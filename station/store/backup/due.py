"""When a backup is due, and when somebody ought to be told that none has left the card."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Final

from station.core.moment import Moment
from station.store.backup.label import Label
from station.texts import t

NIGHT: Final = timedelta(hours=20)
"""A backup each day, wherever in the day the station is switched on."""
ROWS_WITHOUT_TIME: Final = 100
"""A station that does not know the day goes by what was written: about two casts."""
AWAY: Final = timedelta(days=7)


def due(newest: Label | None, rows: int, now: Moment) -> bool:
    """Whether a backup of `rows` journal rows should be made now, after `newest`."""
    if newest is None:
        return rows > 0
    if rows == newest.rows:
        return False
    if not (now.trusted and newest.sure):
        return abs(rows - newest.rows) >= ROWS_WITHOUT_TIME
    return not newest.made <= now.wall < newest.made + NIGHT


def nothing_left_the_card(left: datetime | None, oldest: datetime | None, now: Moment) -> str:
    """A sentence when no copy has left the card for a week; empty while all is well, or nobody knows the day.

    `left` is when one last did, `oldest` when the first backup was made.
    """
    since = left or oldest
    if since is None or not now.trusted or now.wall - since < AWAY:
        return ""
    days = (now.wall - since).days
    if left:
        # AWAY is a week: one day never comes up.
        told = t("No copy of the record has left this card for {days} days.", days=days)
    else:
        told = t("No copy of the record has left this card yet.")
    what_to_do = t("Plug in a stick, name a folder in the settings, or download a backup on the page Record.")
    return f"{told} {what_to_do}"


def none_for_a_week(newest: Label | None, rows: int, first: datetime | None, now: Moment) -> str:
    """A sentence when what was written lately is in no backup of the last week; empty while all is well.

    `first` is when the first cast was begun, for a record of `rows` rows that was never backed up. Empty too while
    nobody knows the day.
    """
    since = first if newest is None else newest.made if newest.sure else None
    if since is None or not now.trusted or rows == (0 if newest is None else newest.rows) or now.wall - since < AWAY:
        return ""
    days = (now.wall - since).days
    return t("No backup was made for {days} days. The page Record says why.", days=days)
