"""Dribble: a small remainder is poured blind, for a time reckoned from what dribbles brought before.

The scale shows such a pour only when it is over, so nothing can be steered while it lasts. Over T seconds from "go on"
to "stop" there come g x (T - t0) grams; both are learned as a line over T.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from station.core.guidance.line import Line
from station.core.guidance.task import Task

OPENING_S, OPENING_SD_S = 0.7, 0.35
"""t0 of an unknown hand: from "go on" to the first drop, less what the hand takes to close (assumed)."""

RATE_DOUBT = 0.6
"""Relative standard deviation of what an unknown hand brings in a second (assumed)."""

UNKNOWN_PART = 1 / 50
"""A dribble of an unknown hand is taken to bring at most so much of the target a second."""

START_SCATTER_S, RATE_SCATTER = 0.25, 0.2
"""Scatter from one dribble to the next: of its beginning in seconds, of its flow as a part (assumed)."""

SHORTEST_S, LONGEST_S, STEP_S = 0.8, 8.0, 0.1


@dataclass(frozen=True, slots=True)
class Dribbled:
    """A short pour after the first stop: `seconds` from "go on" to "stop", and the grams that it brought."""

    seconds: float
    came_g: float


def unknown(task: Task, trickle_g_s: float | None) -> Line:
    """The line of a hand that has not dribbled yet; `trickle_g_s` is the smallest flow seen at a stop."""
    rate = task.target_g * UNKNOWN_PART
    if trickle_g_s is not None:
        rate = min(rate, trickle_g_s / 2)
    rate_var = (RATE_DOUBT * rate) ** 2
    start_var = (rate * OPENING_SD_S) ** 2 + OPENING_S**2 * rate_var
    return Line(-rate * OPENING_S, rate, start_var, -OPENING_S * rate_var, rate_var)


def after(line: Line, dribble: Dribbled, task: Task) -> Line:
    """The line after one dribble was weighed."""
    line = line.seen(
        dribble.seconds, dribble.came_g - line.at(dribble.seconds), _scatter_var(line, dribble.seconds, task)
    )
    least = 0.02 * task.d_g
    return line if line.slope > least else Line(line.start, least, line.var_start, line.covar, line.var_slope)


def seconds_for(line: Line, wanted_g: float, most_g: float, task: Task) -> float:
    """The longest time from "go on" to "stop" that is expected to bring `wanted_g`, and surely not `most_g`."""
    best = SHORTEST_S
    for n in range(round((LONGEST_S - SHORTEST_S) / STEP_S) + 1):
        seconds = SHORTEST_S + n * STEP_S
        spread = math.sqrt(line.doubt_var(seconds) + _scatter_var(line, seconds, task))
        if line.at(seconds) > wanted_g or line.at(seconds) + task.strength.value * spread > most_g:
            break
        best = seconds
    return best


def _scatter_var(line: Line, seconds: float, task: Task) -> float:
    return (
        (line.slope * START_SCATTER_S) ** 2 + (RATE_SCATTER * max(0.0, line.at(seconds))) ** 2 + (0.4 * task.d_g) ** 2
    )
