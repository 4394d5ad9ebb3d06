"""How a clock runs: its age at a moment, across temperature changes and across boots."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from station.casting.cure import CureState, advanced, rate
from station.core.clocks import MAXIMA, AlarmState, Clock, ClockKind
from station.core.moment import Moment, gap_s


def new_clock(kind: ClockKind, length_s: float, started: Moment) -> Clock:
    """A clock of `length_s` seconds that starts at `started`."""
    return Clock(kind, started, length_s, CureState(0.0, started.boot_s, started.boot_id))


def runs(clock: Clock) -> bool:
    """Whether the clock still counts: nobody has stopped it."""
    return clock.state is not AlarmState.STOPPED


def _advanced(clock: Clock, elapsed_s: float, now: Moment, temperature_c: float | None, reference_c: float) -> Clock:
    """A maximum counts plain seconds; a minimum counts equivalent age."""
    at = reference_c if clock.kind in MAXIMA or clock.kind is ClockKind.MIX else temperature_c
    age = advanced(
        clock.age,
        elapsed_s,
        as_of_s=now.boot_s,
        boot_id=now.boot_id,
        temperature_c=at,
        reference_c=reference_c,
    )
    return replace(clock, age=age)


def age_s(clock: Clock, now: Moment, temperature_c: float | None, reference_c: float) -> float:
    """Age in seconds (equivalent age for a minimum) at `now`, which must lie in the clock's present boot."""
    if not runs(clock) or clock.age.boot_id != now.boot_id:
        return clock.age.equivalent_s
    elapsed = now.boot_s - clock.age.as_of_s
    return _advanced(clock, elapsed, now, temperature_c, reference_c).age.equivalent_s


def settled(clock: Clock, now: Moment, temperature_c: float | None, reference_c: float) -> Clock:
    """The same clock with its age brought up to `now` (same boot): before the temperature changes or it stops."""
    if not runs(clock) or clock.age.boot_id != now.boot_id:
        return clock
    return _advanced(clock, now.boot_s - clock.age.as_of_s, now, temperature_c, reference_c)


def carried_over(
    clock: Clock, last_seen: Moment | None, now: Moment, temperature_c: float | None, reference_c: float
) -> Clock:
    """The clock after a start of the station at `now`, having last run for certain at `last_seen`.

    In the same boot nothing changes. From another boot a known gap counts in full; an unknown one takes
    the safe side: a maximum is used up, a minimum gains nothing.
    """
    if not runs(clock) or clock.age.boot_id == now.boot_id:
        return clock
    if last_seen is not None and last_seen.boot_id == clock.age.boot_id:
        clock = settled(clock, last_seen, temperature_c, reference_c)
        gap = gap_s(last_seen, now)
    else:
        gap = None
    if gap is not None:
        return _advanced(clock, gap, now, temperature_c, reference_c)
    used = max(clock.age.equivalent_s, clock.length_s) if clock.kind in MAXIMA else clock.age.equivalent_s
    return replace(clock, age=CureState(used, now.boot_s, now.boot_id), unknown_gap=True)


def left_s(clock: Clock, now: Moment, temperature_c: float | None, reference_c: float) -> float:
    """Seconds until it is due at the present temperature; negative when past due."""
    speed = rate(temperature_c, reference_c) if clock.kind not in MAXIMA else 1.0
    return (clock.length_s - age_s(clock, now, temperature_c, reference_c)) / speed


def due_wall(clock: Clock, now: Moment, temperature_c: float | None, reference_c: float) -> datetime:
    """Wall time (UTC) at which it falls due if the temperature stays."""
    return now.wall + timedelta(seconds=left_s(clock, now, temperature_c, reference_c))
