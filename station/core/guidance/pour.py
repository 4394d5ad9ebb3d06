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
from station.core.guidance.pacing import affordable_g_s, pace
from station.core.guidance.stopping import SHORT_OF, outlook
from station.core.guidance.task import Task
from station.core.guidance.trust import Believed, Trail, begun_anew, believed, sustained_g_s, trailed

AHEAD_S = 0.3
"""A stop that is nearer than this is set for its own moment: readings may come only five times a second."""

MISSED_S = 0.8
"""Flow that goes on so much longer than the run-on means that the stop was not heard."""


GOES_ON = 0.6
"""So much of the flow at the stop is neither the tail of the stream nor that of the filter."""

UNSEEN_S = 0.4
"""What is poured within the run-on and so much more is over before the scale has shown enough of it to steer by."""


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
    trail: Trail = ()
    coarse_g_s: float = 0.0
    pace: float = 0.0
    stop_at_s: float | None = None
    early: bool = False
    cued: Cued | None = None
    first: Cued | None = None
    came_g: float | None = None
    misheard: bool = False
    went_on_s: float | None = None
    from_g: float = 0.0
    least_g_s: float = 0.0
    blind: bool = False
    dribbles: tuple[Dribbled, ...] = ()


def heard(pour: Pour, at_s: float, net_g: float, task: Task, learned: Learned) -> Pour:
    """The pour after one more reading of `net_g` at `at_s`."""
    level = begun(at_s, net_g, task.d_g) if pour.level is None else told(pour.level, at_s, net_g, task.d_g)
    pour = replace(pour, level=level, trail=trailed(pour.trail, level))
    match pour.phase:
        case Phase.POURING:
            return _poured(pour, task, learned)
        case Phase.STOPPED:
            return _still_flowing(pour, task, learned)
        case Phase.DRIBBLING:
            return _dribbled(pour, task, learned)


def _seen(pour: Pour, task: Task) -> Believed:
    level = pour.level
    assert level is not None
    if pour.went_on_s is not None:
        return begun_anew(pour.trail)
    if pour.pace <= 0.0:
        return Believed(level.mass_g, max(0.0, level.flow_g_s))
    return believed(pour.trail, task.d_g)


def _poured(pour: Pour, task: Task, learned: Learned) -> Pour:
    level = pour.level
    assert level is not None
    seen = _seen(pour, task)
    flow = seen.flow_g_s
    coarse = max(pour.coarse_g_s, sustained_g_s(pour.trail))
    assumed = flow
    if pour.went_on_s is not None:
        # A stream that has just begun anew does not show yet.
        assumed = max(flow, pour.least_g_s)
    view = outlook(task, learned.runon, seen.mass_g, assumed)
    stop_at = None
    if view.left_g <= 0:
        stop_at = level.at_s
    elif assumed > 0 and view.left_g < AHEAD_S * assumed:
        stop_at = level.at_s + view.left_g / assumed
    if coarse <= 0 and seen.mass_g < task.low_g and pour.went_on_s is None:
        stop_at = None  # a hand on the pan before the stream: nothing has flowed yet
    reference = coarse if learned.coarse_g_s is None else max(coarse, learned.coarse_g_s)
    now = pace(task, learned, view.left_g, assumed, reference) if coarse > task.d_g or pour.went_on_s else 0.0
    return replace(pour, coarse_g_s=coarse, stop_at_s=stop_at, pace=now, early=view.lowered_g > 0)


def _still_flowing(pour: Pour, task: Task, learned: Learned) -> Pour:
    level, cued = pour.level, pour.cued
    assert level is not None
    assert cued is not None
    late = level.at_s - cued.at_s > learned.runon.time_s + MISSED_S
    if not late or sustained_g_s(pour.trail) <= max(2 * task.d_g, GOES_ON * min(cued.flow_g_s, pour.coarse_g_s)):
        return pour
    on = replace(pour, phase=Phase.POURING, came_g=None, misheard=True)
    return _poured(on, task, learned) if level.mass_g < task.low_g else replace(on, stop_at_s=level.at_s)


def _dribbled(pour: Pour, task: Task, learned: Learned) -> Pour:
    level = pour.level
    assert level is not None
    seen = _seen(pour, task)
    if outlook(task, learned.runon, seen.mass_g, seen.flow_g_s).left_g <= 0:
        return replace(pour, stop_at_s=level.at_s)
    return pour


def due(pour: Pour, now_s: float, task: Task) -> Pour | None:
    """The pour after its stop, where that is due by now; None while it is not."""
    level = pour.level
    if pour.stop_at_s is None or level is None or now_s < pour.stop_at_s or pour.phase is Phase.STOPPED:
        return None
    seen = _seen(pour, task)
    mass = seen.mass_g + seen.flow_g_s * (now_s - level.at_s)
    cued = Cued(now_s, mass, seen.flow_g_s, pour.early)
    first = cued if pour.first is None else pour.first
    return replace(pour, phase=Phase.STOPPED, stop_at_s=None, cued=cued, first=first)


def fell_short(pour: Pour, at_s: float, net_g: float, task: Task, learned: Learned) -> Pour:
    """At rest below the window after a stop: go on, by a timed dribble where little lacks."""
    pour = rested(pour, net_g)
    line = dribble_line(learned, pour.dribbles, task)
    wanted = task.target_g - SHORT_OF * task.tolerance_g - net_g
    least = max(line.slope, learned.trickle_g_s or affordable_g_s(task, learned))
    in_vain = pour.went_on_s is not None and net_g - pour.from_g <= 2 * task.d_g
    blind = in_vain or wanted < least * (learned.runon.time_s + UNSEEN_S)
    pour = replace(pour, went_on_s=at_s, from_g=net_g, pace=1.0, cued=None, early=False, least_g_s=least, blind=blind)
    if not blind:
        return replace(pour, phase=Phase.POURING, stop_at_s=None)
    seconds = seconds_for(line, wanted, task.high_g - net_g, task)
    return replace(pour, phase=Phase.DRIBBLING, stop_at_s=at_s + seconds)


def rested(pour: Pour, net_g: float) -> Pour:
    """At rest after a stop: what came is known."""
    cued = pour.cued
    if pour.phase is not Phase.STOPPED or cued is None:
        return pour
    if pour.went_on_s is None and not pour.misheard:
        return replace(pour, came_g=net_g - cued.mass_g)
    if pour.went_on_s is None or not pour.blind:
        return pour
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
