"""The text of a calendar (RFC 5545, with the refresh interval and name of RFC 7986). Times are in UTC."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Final

from station.almanac.issue import Issues, uid_of
from station.core.clocks import ClockKind
from station.core.cure_ends import CureEnd
from station.texts import t

if TYPE_CHECKING:
    from icalendar import Alarm, Event, Timezone

REFRESH: Final = timedelta(hours=1)
LASTS: Final = timedelta(minutes=15)
"""How long an event is, so that it can be seen in a calendar."""
PRODUCT: Final = "-//Tarebell//casting bench station//EN"


def as_ics(ends: Iterable[CureEnd], issues: Issues, wall: datetime, name: str) -> str:
    """The calendar `name` with an event for every end that was issued, as of `wall` (UTC)."""
    from icalendar import Calendar, vDuration, vText

    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    # Said to be text: the library does not know this property, and would write it as it stands.
    calendar.add("name", vText(_clean(name)))
    calendar.add("refresh-interval", vDuration(REFRESH), parameters={"value": "DURATION"})
    known = {one.uid: one for one in issues}
    for end in ends:
        one = known.get(uid_of(end))
        if one is not None:
            event = _event(end, wall)
            event.add("uid", one.uid)
            event.add("dtstart", one.due)
            event.add("sequence", one.sequence)
            event.add("last-modified", one.changed)
            calendar.add_component(event)
    if not calendar.subcomponents:
        # A calendar must not be empty; a definition of UTC is the least that it may hold.
        calendar.add_component(_utc())
    return bytes(calendar.to_ical()).decode()


def _event(end: CureEnd, wall: datetime) -> Event:
    from icalendar import Event

    title = _title(end)
    event = Event()
    event.add("dtstamp", wall.replace(microsecond=0))
    event.add("duration", LASTS)
    event.add("summary", title)
    event.add("description", _clean(end.words))
    event.add("transp", "TRANSPARENT")
    event.add_component(_alarm(title))
    return event


def _alarm(title: str) -> Alarm:
    from icalendar import Alarm

    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("trigger", timedelta(0))
    alarm.add("description", title)
    return alarm


def _utc() -> Timezone:
    from icalendar import Timezone, TimezoneStandard

    zone, standard = Timezone(), TimezoneStandard()
    zone.add("tzid", "UTC")
    standard.add("dtstart", datetime(1970, 1, 1))
    standard.add("tzoffsetfrom", timedelta(0))
    standard.add("tzoffsetto", timedelta(0))
    zone.add_component(standard)
    return zone


def _title(end: CureEnd) -> str:
    if end.kind is ClockKind.DEMOLD:
        return _clean(t("Cast {number}, {mold}: take it out of the mold", number=end.number, mold=end.mold))
    return _clean(t("Cast {number}, {mold}: fully cured", number=end.number, mold=end.mold))


def _clean(text: str) -> str:
    """Without control characters, which no calendar may hold; line breaks stay and are escaped."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n")
    return "".join(c if c in "\n\t" or not (ord(c) < 32 or ord(c) == 127) else " " for c in lines)
