"""How a clock runs: its age at a moment, across temperature changes and across boots."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import datetime, timedelta

from station.casting.cure import CureState, advanced
from station.core.clocks import MAXIMA, AlarmState, Clock, ClockKind
from station.core.moment import Moment, gap_s

PLAIN = MAXIMA | {ClockKind.MIX}
"""Clocks that no temperature drives once they run: limits, whose length the plan has fixed, and the mix."""
MOST_S = 400 * 86400.0


def new_clock(kind: ClockKind, length_s: float, started: Moment) -> Clock:
    """A clock of `length_s` seconds that starts at `started`."""
    return Clock(kind, started, length_s, CureState(0.0, started.boot_s, started.boot_id))


def runs(clock: Clock) -> bool:
    """Whether the clock still counts: nobody has stopped it."""
    return clock.state is not AlarmState.STOPPED


def _advanced(clock: Clock, elapsed_s: float, now: Moment, rate: float) -> Clock:
    """A maximum and the mix count plain seconds; a cure counts equivalent age, `rate` seconds a second."""
    counts = 1.0 if clock.kind in PLAIN else rate
    age = advanced(clock.age, elapsed_s, as_of_s=now.boot_s, boot_id=now.boot_id, rate=counts)
    return replace(clock, age=age)


def age_s(clock: Clock, now: Moment, rate: float) -> float:
    """Age in seconds (equivalent age for a minimum) at `now`, which must lie in the clock's present boot."""
    if not runs(clock) or clock.age.boot_id != now.boot_id:
        return clock.age.equivalent_s
    elapsed = now.boot_s - clock.age.as_of_s
    return _advanced(clock, elapsed, now, rate).age.equivalent_s


def settled(clock: Clock, now: Moment, rate: float) -> Clock:
    """The same clock with its age brought up to `now` (same boot): before the temperature changes or it stops."""
    if not runs(clock) or clock.age.boot_id != now.boot_id:
        return clock
    return _advanced(clock, now.boot_s - clock.age.as_of_s, now, rate)


def carried_over(clock: Clock, last_seen: Moment | None, now: Moment, rate: float) -> Clock:
    """The clock after a start of the station at `now`, having last run for certain at `last_seen`.

    In the same boot nothing changes. From another boot a known gap counts in full, but for a cure no faster than
    plain time: what kept it warm may have gone off with the power. An unknown gap takes the safe side: a maximum is
    used up, a minimum gains nothing.
    """
    if not runs(clock) or clock.age.boot_id == now.boot_id:
        return clock
    if last_seen is not None and last_seen.boot_id == clock.age.boot_id:
        clock = settled(clock, last_seen, rate)
        gap = gap_s(last_seen, now)
    else:
        gap = None
    if gap is not None:
        return _advanced(clock, gap, now, min(1.0, rate))
    used = max(clock.age.equivalent_s, clock.length_s) if clock.kind in MAXIMA else clock.age.equivalent_s
    return replace(clock, age=CureState(used, now.boot_s, now.boot_id), unknown_gap=True)


def left_s(clock: Clock, now: Moment, rate: float) -> float:
    """Seconds until it is due at the present rate; negative when past due, infinite for a cure that stands still."""
    left = clock.length_s - age_s(clock, now, rate)
    counts = 1.0 if clock.kind in PLAIN else rate
    if counts == 0:
        return math.inf if left > 0 else left
    return left / counts


def due_wall(clock: Clock, now: Moment, rate: float) -> datetime | None:
    """Wall time (UTC) at which it falls due if the temperature stays; None for never, or beyond all calendars."""
    left = left_s(clock, now, rate)
    return now.wall + timedelta(seconds=left) if abs(left) < MOST_S else None
