"""Pour: one weighing as guidance sees it, reading by reading. Pure, and cheap enough for every reading.

`heard` takes a reading, `due` says whether the stop sounds now, `fell_short` begins a short pour after rest below the
window, `lesson` is what the whole pour taught. Nothing here knows of accepting.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum

from station.core.guidance.dribble import Dribbled, seconds_for
from station.core.guidance.learned import Learned, Lesson, dribble_line
from station.core.guidance.level import Level, begun, told
from station.core.guidance.pacing import pace
from station.core.guidance.stopping import SHORT_OF, outlook
from station.core.guidance.task import Task

AHEAD_S = 0.3
"""A stop that is nearer than this is set for its own moment: readings may come only five times a second."""

GUARD_FROM_S, GUARD_TO_S, GUARD_RATIO = 0.6, 1.2, 1.4
"""A hand that is braking does not flow faster than this times what it did so long ago; a bump does."""

MISSED_S = 0.8
"""Flow that goes on so much longer than the run-on means that the stop was not heard."""


class Phase(Enum):
    """Where a pour stands: it flows or may, it was told to stop, a short pour is timed."""

    POURING = "pouring"
    STOPPED = "stopped"
    DRIBBLING = "dribbling"


@dataclass(frozen=True, slots=True)
class Cued:
    """A stop that was said: when, at which level and flow, and whether it was put early for safety."""

    at_s: float
    mass_g: float
    flow_g_s: float
    early: bool


@dataclass(frozen=True, slots=True)
class Pour:
    """`stop_at_s`: when the stop is to sound, as far as known; `went_on_s` and `from_g`: the last "go on".

    `trail` is the flow of late, for the guard. `first` is the first stop, `came_g` what followed it.
    """

    phase: Phase = Phase.POURING
    level: Level | None = None
    trail: tuple[tuple[float, float], ...] = ()
    coarse_g_s: float = 0.0
    pace: float = 0.0
    stop_at_s: float | None = None
    early: bool = False
    cued: Cued | None = None
    first: Cued | None = None
    came_g: float | None = None
    went_on_s: float | None = None
    from_g: float = 0.0
    least_g_s: float = 0.0
    dribbles: tuple[Dribbled, ...] = ()


def heard(pour: Pour, at_s: float, net_g: float, task: Task, learned: Learned) -> Pour:
    """The pour after one more reading of `net_g` at `at_s`."""
    level = begun(at_s, net_g, task.d_g) if pour.level is None else told(pour.level, at_s, net_g, task.d_g)
    trail = (*pour.trail, (at_s, level.flow_g_s))
    while trail[0][0] < at_s - GUARD_TO_S:
        trail = trail[1:]
    pour = replace(pour, level=level, trail=trail)
    match pour.phase:
        case Phase.POURING:
            return _poured(pour, task, learned)
        case Phase.STOPPED:
            return _still_flowing(pour, task, learned)
        case Phase.DRIBBLING:
            return _dribbled(pour, task, learned)


def _guarded(pour: Pour, task: Task) -> float:
    level = pour.level
    assert level is not None
    flow = max(0.0, level.flow_g_s)
    if pour.pace <= 0.0:
        return flow
    then = [q for at, q in pour.trail if at <= level.at_s - GUARD_FROM_S]
    return min(flow, GUARD_RATIO * max(0.0, min(then)) + 0.5 * task.d_g) if then else flow


def _poured(pour: Pour, task: Task, learned: Learned) -> Pour:
    level = pour.level
    assert level is not None
    flow = _guarded(pour, task)
    coarse = max(pour.coarse_g_s, flow)
    assumed = flow
    if pour.went_on_s is not None:
        # A stream that has just begun anew does not show yet.
        assumed = max(flow, pour.least_g_s)
    view = outlook(task, learned.runon, level.mass_g, assumed)
    stop_at = None
    if view.left_g <= 0:
        stop_at = level.at_s
    elif assumed > 0 and view.left_g < AHEAD_S * assumed:
        stop_at = level.at_s + view.left_g / assumed
    if level.mass_g < 0.1 * task.target_g and pour.went_on_s is None and flow <= task.d_g:
        stop_at = None
    reference = coarse if learned.coarse_g_s is None else max(coarse, learned.coarse_g_s)
    now = pace(task, learned, view.left_g, assumed, reference) if coarse > task.d_g or pour.went_on_s else 0.0
    return replace(pour, coarse_g_s=coarse, stop_at_s=stop_at, pace=now, early=view.lowered_g > 0)


def _still_flowing(pour: Pour, task: Task, learned: Learned) -> Pour:
    level, cued = pour.level, pour.cued
    assert level is not None
    assert cued is not None
    late = level.at_s - cued.at_s > learned.runon.time_s + MISSED_S
    if late and level.flow_g_s > max(0.5 * cued.flow_g_s, 2 * task.d_g):
        return _poured(replace(pour, phase=Phase.POURING, came_g=None), task, learned)
    return pour


def _dribbled(pour: Pour, task: Task, learned: Learned) -> Pour:
    level = pour.level
    assert level is not None
    if outlook(task, learned.runon, level.mass_g, _guarded(pour, task)).left_g <= 0:
        return replace(pour, stop_at_s=level.at_s)
    return pour


def due(pour: Pour, now_s: float) -> Pour | None:
    """The pour after its stop, where that is due by now; None while it is not."""
    level = pour.level
    if pour.stop_at_s is None or level is None or now_s < pour.stop_at_s or pour.phase is Phase.STOPPED:
        return None
    cued = Cued(now_s, level.at(now_s), max(0.0, level.flow_g_s), pour.early)
    first = cued if pour.first is None else pour.first
    return replace(pour, phase=Phase.STOPPED, stop_at_s=None, cued=cued, first=first)


def fell_short(pour: Pour, at_s: float, net_g: float, task: Task, learned: Learned) -> Pour:
    """At rest below the window after a stop: go on, by a timed dribble where little lacks."""
    pour = rested(pour, net_g, at_s)
    line = dribble_line(learned, pour.dribbles, task)
    wanted = task.target_g - SHORT_OF * task.tolerance_g - net_g
    pour = replace(pour, went_on_s=at_s, from_g=net_g, pace=1.0, cued=None, early=False, least_g_s=line.slope)
    if wanted < line.slope * (learned.runon.time_s + 0.4):
        seconds = seconds_for(line, wanted, task.high_g - net_g, task)
        return replace(pour, phase=Phase.DRIBBLING, stop_at_s=at_s + seconds)
    return replace(pour, phase=Phase.POURING, stop_at_s=None)


def rested(pour: Pour, net_g: float, at_s: float) -> Pour:
    """At rest after a stop: what came is known."""
    cued = pour.cued
    if pour.phase is not Phase.STOPPED or cued is None:
        return pour
    if pour.went_on_s is None:
        return replace(pour, came_g=net_g - cued.mass_g)
    dribble = Dribbled(cued.at_s - pour.went_on_s, net_g - pour.from_g)
    return replace(pour, dribbles=(*pour.dribbles, dribble))


def lesson(pour: Pour) -> Lesson:
    """What this pour taught, once it is over and `rested`."""
    first = pour.first
    return Lesson(
        None if first is None else first.flow_g_s,
        pour.came_g,
        first is not None and first.early,
        pour.coarse_g_s,
        pour.dribbles,
    )
