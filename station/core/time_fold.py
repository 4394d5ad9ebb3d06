"""The part of the fold that knows time: what each entry tells of its boot's wall clock, and of the power cuts."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import assert_never

from station.core.clocks import Clock
from station.core.moment import Moment, gap_s
from station.core.standing import Cast, Standing
from station.core.time_events import GapKnown, TimeHeard, TimeTold
from station.core.timing import gap_known
from station.core.walls import OUTAGES_KEPT, HowKnown, Outage, put, seen, wall_of


def noted(standing: Standing, at: Moment) -> Standing:
    """With what the moment of an entry tells of its boot's wall clock."""
    walls = seen(standing.walls, at)
    return standing if walls is standing.walls else replace(standing, walls=walls)


def started(standing: Standing, last_seen: Moment | None, at: Moment) -> Standing:
    """The station came up: in another boot than it was last seen in, the power was off meanwhile."""
    if last_seen is None or last_seen.boot_id == at.boot_id:
        return standing
    off_s = gap_s(last_seen, at)
    how = None if off_s is None else HowKnown.SET if last_seen.by_hand else HowKnown.HEARD
    cuts = (*standing.outages, Outage(last_seen, at, off_s, how))
    return replace(standing, outages=cuts[-OUTAGES_KEPT:])


def learned(standing: Standing, event: TimeHeard | TimeTold | GapKnown, at: Moment) -> Standing:
    """The state once this is known."""
    match event:
        case TimeHeard(shift_s=shift):
            wall = wall_of(standing.walls, at.boot_id)
            assert wall is not None, "every entry's boot is noted before"
            return replace(standing, walls=put(standing.walls, replace(wall, shift_s=shift)))
        case TimeTold(offset_s=offset, by=by):
            wall = wall_of(standing.walls, at.boot_id)
            assert wall is not None, "every entry's boot is noted before"
            told = replace(wall, offset_s=offset, by_hand=True, since=at, by=by)
            return replace(standing, walls=put(standing.walls, told))
        case GapKnown(boot_id=boot_id, off_s=off, how=how):
            cuts = tuple(
                replace(cut, off_s=off, how=how) if cut.back.boot_id == boot_id else cut for cut in standing.outages
            )
            standing = replace(standing, outages=cuts)
            if off is None:
                return standing
            return each_clock(standing, lambda _, clock: gap_known(clock, boot_id, off))
        case _:
            assert_never(event)


def each_clock(standing: Standing, change: Callable[[Cast, Clock], Clock]) -> Standing:
    """Every clock of every open cast, changed."""
    casts = tuple(replace(cast, clocks=tuple(change(cast, clock) for clock in cast.clocks)) for cast in standing.casts)
    return replace(standing, casts=casts)
