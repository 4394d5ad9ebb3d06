"""Casts that cure, for the calendar: made by hand, with any name a mold may have."""

from __future__ import annotations

from dataclasses import replace

from station.core.clocks import AlarmState, ClockKind
from station.core.moment import Moment
from station.core.standing import Cast, Standing
from station.core.steps import Cure
from station.core.timing import new_clock
from tests.phone.shown import PAD, SmallShelf

AN_HOUR = 3600.0


def cures(number: int, at: Moment, *, mold: str = "kayak seat pad, left", hours: float = 4.0) -> Cast:
    """A cast poured at `at`, ready to demold after `hours` and fully cured after a day."""
    plan = SmallShelf().plan("foam", PAD.key, "", {}, "test").plan
    foam = replace(plan.material, times=replace(plan.material.times, activation_kj=60.0))
    plan = replace(plan, mold=replace(plan.mold, title=mold), material=foam)
    at_cure = next(place for place, step in enumerate(plan.steps) if isinstance(step, Cure))
    clocks = (
        new_clock(ClockKind.DEMOLD, hours * AN_HOUR, at),
        new_clock(ClockKind.FULL_CURE, 24 * AN_HOUR, at),
    )
    return Cast(number, plan, at, plan.steps, at_cure, at, clocks=clocks, poured=at)


def demolded(cast: Cast) -> Cast:
    """The same, out of its mold."""
    clocks = tuple(
        replace(clock, state=AlarmState.STOPPED) if clock.kind is ClockKind.DEMOLD else clock for clock in cast.clocks
    )
    return replace(cast, demolded=True, clocks=clocks)


def standing(*casts: Cast) -> Standing:
    """A bench with these casts."""
    return Standing(casts=casts, last_number=len(casts))
