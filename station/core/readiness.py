"""When a cure will be over: by its slowest, which the bell waits for, and how much sooner it may be."""

from __future__ import annotations

from datetime import timedelta

from station.casting.kinetics import Rate
from station.core.clocks import Clock
from station.core.drive import LEAST_WORTH_A_WORD, cure_kinetics, rate_of
from station.core.moment import Moment
from station.core.snapshot import ReadyView
from station.core.standing import Cast, Standing
from station.core.timing import MOST_S, age_s, due_wall, left_s


def ready_view(standing: Standing, cast: Cast, clock: Clock, now: Moment) -> ReadyView:
    """What is known of the end of a cure clock at `now`, if the bench stays as warm as it is.

    The soonest is reckoned as if it had been as warm all along: the clock itself keeps the slowest age alone.
    """
    rate, times = rate_of(standing, cast), cast.plan.material.times
    age = age_s(clock, now, rate)
    soonest_s = _soonest_s(standing, cast, clock.length_s, age)
    left = left_s(clock, now, rate)
    known = now.trusted and not clock.unknown_gap
    soonest = None if soonest_s is None or not known or soonest_s > MOST_S else now.wall + timedelta(seconds=soonest_s)
    return ReadyView(
        age_s=min(age, clock.length_s),
        length_s=clock.length_s,
        reference_c=times.reference_c,
        celsius=standing.temperature_c,
        surely_s=left,
        surely=due_wall(clock, now, rate) if known else None,
        soonest_s=soonest_s,
        soonest=soonest,
    )


def _soonest_s(standing: Standing, cast: Cast, length_s: float, age: float) -> float | None:
    celsius = standing.temperature_c
    found = None if celsius is None else cure_kinetics(cast.plan.material).rate(celsius)
    if not isinstance(found, Rate) or found.slow <= 0 or found.fast / found.slow - 1 < LEAST_WORTH_A_WORD:
        return None
    return max(0.0, (length_s - age * found.fast / found.slow) / found.fast)
