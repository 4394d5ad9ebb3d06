"""Issue: which date of a cure end was given out last, and how often it has moved. Pure.

A calendar takes a date anew only when its sequence number has grown, so that is kept with the date.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Final
from uuid import NAMESPACE_OID, uuid5

from station.core.cure_ends import CureEnd

MOVED: Final = timedelta(minutes=1)
"""A date that moves by less is left where it is."""
_MINUTE: Final = timedelta(minutes=1)


@dataclass(frozen=True, slots=True)
class Issue:
    """The date `due` (UTC, whole minutes) of the end `uid`, moved `sequence` times, the last time at `changed`."""

    uid: str
    due: datetime
    sequence: int
    changed: datetime


Issues = tuple[Issue, ...]


def uid_of(end: CureEnd) -> str:
    """A name for an end that stays the same for ever, whatever happens to the files of this station."""
    return str(uuid5(NAMESPACE_OID, f"cure end {end.origin}"))


def issued(before: Issues, ends: Sequence[CureEnd], wall: datetime) -> Issues:
    """What is given out at `wall` (UTC). An end that stands still keeps its last date, one that is gone has none."""
    known = {one.uid: one for one in before}
    after = []
    for end in ends:
        uid = uid_of(end)
        one = known.get(uid)
        if end.due is None or (one is not None and end.over and one.due <= wall):
            after.extend([] if one is None else [one])
        elif one is None:
            after.append(Issue(uid, _later_minute(end.due), 0, _second(wall)))
        elif abs(end.due - one.due) < MOVED:
            after.append(one)
        else:
            after.append(replace(one, due=_later_minute(end.due), sequence=one.sequence + 1, changed=_second(wall)))
    return tuple(after)


def _later_minute(when: datetime) -> datetime:
    """A part is never called ready too early."""
    whole = when.replace(second=0, microsecond=0)
    return whole if whole == when else whole + _MINUTE


def _second(when: datetime) -> datetime:
    return when.replace(microsecond=0)
