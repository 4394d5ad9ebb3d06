"""How a clock runs: its age at a moment, across temperature changes and across boots."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import datetime, timedelta

from station.casting.cure import CureState, advanced, aged_s
from station.core.clocks import MAXIMA, AlarmState, Clock, ClockKind, Gap
from station.core.moment import Moment, gap_s
from station.core.walls import Outage

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
    return aged_s(clock.age, now.boot_s - clock.age.as_of_s, 1.0 if clock.kind in PLAIN else rate)


def settled(clock: Clock, now: Moment, rate: float) -> Clock:
    """The same clock with its age brought up to `now` (same boot): before the temperature changes or it stops."""
    if not runs(clock) or clock.age.boot_id != now.boot_id:
        return clock
    return _advanced(clock, now.boot_s - clock.age.as_of_s, now, rate)


def carried_over(clock: Clock, last_seen: Moment | None, now: Moment, rate: float) -> Clock:
    """The clock after a start of the station at `now`, having last run for certain at `last_seen`.

    In the same boot nothing changes. From another boot a known gap counts in full, but for a cure no faster than
    plain time: what kept it warm may have gone off with the power. An unknown gap takes the safe side: a maximum is
    used up, a minimum gains nothing; `gap_known` tells it better when more is known.
    """
    if not runs(clock) or clock.age.boot_id == now.boot_id:
        return clock
    if last_seen is None or last_seen.boot_id != clock.age.boot_id:
        return unknown_over(clock, now, Gap("", _off_counts(clock, rate)))
    clock = settled(clock, last_seen, rate)
    gap = gap_s(last_seen, now)
    if gap is None:
        return unknown_over(clock, now, Gap(now.boot_id, _off_counts(clock, rate)))
    return _advanced(clock, gap, now, min(1.0, rate))


def carried_into(clock: Clock, outage: Outage | None, now: Moment, rate: float) -> Clock:
    """A clock that starts at `clock.started` and is first heard of at `now`, in the next boot after `outage`."""
    started, counts = clock.started, _off_counts(clock, rate)
    if gap_s(started, now) is not None:
        return carried_over(clock, started, now, rate)
    if outage is None or outage.last_seen.boot_id != started.boot_id:
        return unknown_over(clock, now, Gap("", counts))
    ran_s = outage.last_seen.boot_s - started.boot_s + now.boot_s - outage.back.boot_s
    clock = unknown_over(clock, now, Gap(now.boot_id, counts, ran_s))
    return clock if outage.off_s is None else gap_known(clock, now.boot_id, outage.off_s)


def _off_counts(clock: Clock, rate: float) -> float:
    """Seconds of age that each second with the power off counts."""
    return 1.0 if clock.kind in PLAIN else min(1.0, rate)


def unknown_over(clock: Clock, now: Moment, gap: Gap) -> Clock:
    """The clock at `now`, after a gap of unknown length: on its safe side."""
    clock = replace(clock, age=replace(clock.age, as_of_s=now.boot_s, boot_id=now.boot_id))
    return _on_the_safe_side(clock, (*clock.gaps, gap), clock.topped_s)


def gap_known(clock: Clock, boot_id: str, off_s: float) -> Clock:
    """The clock, once the power is known to have been off for `off_s` before boot `boot_id`; or known better.

    The cut then counts in full, as if it had been known from the first. Others that are still unknown keep their
    safe side.
    """
    if not runs(clock) or all(gap.boot_id != boot_id for gap in clock.gaps):
        return clock
    gained, gaps = 0.0, []
    for gap in clock.gaps:
        if gap.boot_id == boot_id:
            before = 0.0 if gap.off_s is None else gap.off_s + gap.extra_s
            gained += gap.counts * (max(0.0, off_s + gap.extra_s) - max(0.0, before))
            gaps.append(replace(gap, off_s=off_s))
        else:
            gaps.append(gap)
    age = replace(clock.age, equivalent_s=clock.age.equivalent_s - clock.topped_s + gained)
    return _on_the_safe_side(replace(clock, age=age, topped_s=0.0), tuple(gaps), 0.0)


def _on_the_safe_side(clock: Clock, gaps: tuple[Gap, ...], least_s: float) -> Clock:
    """With these gaps, and with what the unknown ones among them need on top: a maximum is used up, `least_s` more."""
    unknown = any(gap.off_s is None for gap in gaps)
    known_s = clock.age.equivalent_s - clock.topped_s
    used_s = max(known_s + least_s, clock.length_s) if unknown and clock.kind in MAXIMA else known_s
    age = replace(clock.age, equivalent_s=used_s)
    return replace(clock, age=age, gaps=gaps, topped_s=used_s - known_s, unknown_gap=unknown)


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
