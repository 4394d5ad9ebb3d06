"""Working schedule: casts over molds and days, with one pair of hands.

A cast needs its mold free and `handling_min` of the person's time in working hours; its mold is free again when the
demold time is over and the person has taken the part out, which is done in working hours too. It is a schedule by a
plain rule (the mold that needs most time still goes first), not proved the shortest; the earliest end that any
schedule could have tells how far off it can be at most.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from station.errors import Refused
from station.texts import t

DAY_MIN = 1440
MOST_DAYS = 400
MOST_CASTS = 500


@dataclass(frozen=True, slots=True)
class MoldLoad:
    """A mold: how many casts of it are wanted, its handling and demold time in minutes."""

    name: str
    casts: int
    handling_min: int
    demold_min: int


@dataclass(frozen=True, slots=True)
class Hours:
    """Working hours in minutes of the day, and on which days of the week (0 Monday … 6 Sunday) they hold."""

    start: int = 9 * 60
    end: int = 17 * 60
    weekdays: frozenset[int] = frozenset({0, 1, 2, 3, 4})

    def __post_init__(self) -> None:
        if not 0 <= self.start < self.end <= DAY_MIN or not self.weekdays:
            raise Refused(t("The working hours are none."), t('Write them as "9:00-17:00" on at least one day.'))


@dataclass(frozen=True, slots=True)
class ScheduledCast:
    """One cast: minutes since the first day's midnight at which it is begun, poured, ready, and taken out."""

    mold: str
    number: int
    begun: int
    poured: int
    ready: int
    demolded: int


@dataclass(frozen=True, slots=True)
class Schedule:
    """The casts in order of their beginning, and a minute before which no schedule of them has its last part out."""

    casts: tuple[ScheduledCast, ...]
    not_before: int

    @property
    def days(self) -> int:
        """Calendar days from the first one, waiting for material included, to the last demold."""
        return 0 if not self.casts else max(cast.demolded for cast in self.casts) // DAY_MIN + 1


def schedule(molds: Sequence[MoldLoad], hours: Hours, first_weekday: int, *, from_min: int = 0) -> Schedule:
    """Lay out all casts from minute `from_min` of the first day on. Raises Refused when it cannot be done."""
    _possible(molds, hours)
    casts = _laid_out(molds, hours, first_weekday, from_min)
    return Schedule(casts, _not_before(molds, hours, first_weekday, from_min))


def _laid_out(molds: Sequence[MoldLoad], hours: Hours, first_weekday: int, from_min: int) -> tuple[ScheduledCast, ...]:
    hands, done = from_min, {mold.name: 0 for mold in molds}
    free = {mold.name: from_min for mold in molds}
    casts: list[ScheduledCast] = []
    while any(done[mold.name] < mold.casts for mold in molds):
        waiting = [mold for mold in molds if done[mold.name] < mold.casts]
        begins = {m.name: _fits(max(hands, free[m.name]), m.handling_min, hours, first_weekday) for m in waiting}
        # Of those that can begin first, the one that has most still to do keeps the end early.
        chosen = min(
            waiting, key=lambda m: (begins[m.name], -(m.casts - done[m.name]) * (m.demold_min + m.handling_min))
        )
        begun = begins[chosen.name]
        poured = begun + chosen.handling_min
        ready = poured + chosen.demold_min
        out = _fits(ready, 0, hours, first_weekday)
        done[chosen.name] += 1
        casts.append(ScheduledCast(chosen.name, done[chosen.name], begun, poured, ready, out))
        hands, free[chosen.name] = poured, out
        if out > MOST_DAYS * DAY_MIN:
            raise Refused(
                t("It would take more than {most_days} days.", most_days=MOST_DAYS),
                t("Fewer casts, more molds, or longer hours."),
            )
    return tuple(casts)


def _possible(molds: Sequence[MoldLoad], hours: Hours) -> None:
    if not molds or sum(mold.casts for mold in molds) == 0:
        raise Refused(t("There is nothing to cast."), t("Type a mold with its casts."))
    if len({mold.name for mold in molds}) < len(molds):
        raise Refused(t("Two molds have one name."), t("Call them left and right, or 1 and 2."))
    if sum(mold.casts for mold in molds) > MOST_CASTS:
        raise Refused(
            t("More than {most_casts} casts are not laid out.", most_casts=MOST_CASTS), t("Plan a part of them.")
        )
    for mold in molds:
        if mold.casts < 0 or mold.handling_min < 1 or mold.demold_min < 0:
            raise Refused(
                t("{name}: casts, handling and demold cannot be like that.", name=mold.name),
                t("Handling takes a minute at least."),
            )
        if mold.handling_min > hours.end - hours.start:
            raise Refused(
                t(
                    "{name}: {handling_min} min of handling do not fit into a working day.",
                    name=mold.name,
                    handling_min=mold.handling_min,
                ),
                t("Lengthen the hours."),
            )


def _fits(at: int, minutes: int, hours: Hours, first_weekday: int) -> int:
    """The first minute from `at` on at which work of `minutes` fits into working hours."""
    day = at // DAY_MIN
    for later in range(day, day + 8):
        if (first_weekday + later) % 7 not in hours.weekdays:
            continue
        begin = max(at, later * DAY_MIN + hours.start)
        if begin + minutes <= later * DAY_MIN + hours.end:
            return begin
    raise AssertionError("a week without a working day was refused before")


def _not_before(molds: Sequence[MoldLoad], hours: Hours, first_weekday: int, from_min: int) -> int:
    """No schedule ends earlier than a mold with the hands to itself, nor than all handling and one cure after it."""
    wanted = [mold for mold in molds if mold.casts]
    alone = (_laid_out([mold], hours, first_weekday, from_min)[-1].demolded for mold in wanted)
    at, left = from_min, sum(mold.casts * mold.handling_min for mold in wanted)
    while True:
        at = _fits(at, 1, hours, first_weekday)
        worked = min(left, at // DAY_MIN * DAY_MIN + hours.end - at)
        at, left = at + worked, left - worked
        if left == 0:
            cured = at + min(mold.demold_min for mold in wanted)
            return max(_fits(cured, 0, hours, first_weekday), *alone)


def casts_a_day(mold: MoldLoad, hours: Hours) -> int:
    """Casts of one mold that one working day holds when nothing else is done: the last may cure over night."""
    room = hours.end - hours.start - mold.handling_min
    return 1 + math.floor(room / (mold.handling_min + mold.demold_min))
