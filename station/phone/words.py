"""Times, ages and masses as a person at the bench reads them. The station writes them, the page only shows them."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta, tzinfo

from station.core.mass import Mass
from station.texts import N_, t

_DAYS = (N_("Mon"), N_("Tue"), N_("Wed"), N_("Thu"), N_("Fri"), N_("Sat"), N_("Sun"))
_MINUTE = 60
_HOUR = 3600
_DAY = 86400


def span_text(seconds: float) -> str:
    """A time left, seconds rounded up so that zero means zero: `4:05`, `2 h 30`, `3 d 4 h`."""
    whole = max(0, math.ceil(seconds))
    if whole < _HOUR:
        return f"{whole // _MINUTE}:{whole % _MINUTE:02d}"
    minutes = math.ceil(whole / _MINUTE)
    if minutes < 48 * 60:
        return f"{minutes // 60} h {minutes % 60:02d}"
    hours = math.ceil(whole / _HOUR)
    return f"{hours // 24} d {hours % 24} h"


def past_text(seconds: float) -> str:
    """A time gone by, rounded down: never more than has really passed."""
    whole = max(0, math.floor(seconds))
    if whole < _HOUR:
        return f"{whole // _MINUTE}:{whole % _MINUTE:02d}"
    if whole < 2 * _DAY:
        return f"{whole // _HOUR} h {whole % _HOUR // _MINUTE:02d}"
    return f"{whole // _DAY} d {whole % _DAY // _HOUR} h"


def age_text(seconds: float | None) -> str:
    """How old a reading is; empty when there is none."""
    if seconds is None:
        return ""
    return (
        t("{seconds} old", seconds=past_text(seconds))
        if seconds >= _MINUTE
        else t("{seconds} s old", seconds=math.floor(max(0.0, seconds)))
    )


def clock_text(wall: datetime, now: datetime, zone: tzinfo | None = None) -> str:
    """The time of day of `wall` (aware) at the bench; with its day when that is not the day of `now`.

    In the hour that comes twice when summer time ends, the name of the time says which of the two is meant.
    """
    here, today = wall.astimezone(zone), now.astimezone(zone)
    which = f" {here:%Z}" if _comes_twice(here, zone) else ""
    if here.date() == today.date():
        return f"{here:%H:%M}{which}"
    days = abs((here.date() - today.date()).days)
    return f"{weekday(here)} {here:%H:%M}{which}" if days < 7 else f"{here:%Y-%m-%d %H:%M}{which}"


def weekday(here: datetime) -> str:
    """The short name of the day of the week."""
    return t(_DAYS[here.weekday()])


def _comes_twice(here: datetime, zone: tzinfo | None) -> bool:
    """Whether a clock on the wall shows this time of day again, an hour or half an hour earlier or later."""
    shown = here.replace(tzinfo=None)
    others = ((here.astimezone(UTC) + timedelta(minutes=by)).astimezone(zone) for by in (-60, -30, 30, 60))
    return any(other.replace(tzinfo=None) == shown for other in others)


def day_text(wall: datetime, zone: tzinfo | None = None) -> str:
    """Date and time of day at the bench."""
    return f"{wall.astimezone(zone):%Y-%m-%d %H:%M}"


def mass_text(mass: Mass, step: Mass) -> str:
    """Grams as the scale of readability `step` shows them, with a real minus sign and no negative zero."""
    text = mass.text(step)
    number = text.removesuffix(" g")
    if not number.strip("-0.,"):
        return f"{number.lstrip('-')} g"
    return text.replace("-", "\N{MINUS SIGN}")
