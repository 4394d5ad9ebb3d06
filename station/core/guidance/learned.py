"""Learned: what the pours of one liquid at one scale have taught, and how a lesson changes it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from station.core.guidance.dribble import Dribbled, after, unknown
from station.core.guidance.line import Line
from station.core.guidance.runon import RunOn, stranger, taught
from station.core.guidance.stopping import floor_var
from station.core.guidance.task import Task

BRAKE_LEAST, BRAKE_MOST = 0.8, 2.0
BRAKE_UP, BRAKE_DOWN = 1.25, 0.95
"""A hand that was still fast when it had to stop is slowed earlier next time, and bit by bit later again."""

QUICK = 0.5
"""How much of a new figure for the flow before braking is taken over at once."""


@dataclass(frozen=True, slots=True)
class Lesson:
    """What one pour showed.

    `flow_g_s` at the first stop and `came_g` after it, both None when no stop was said or nobody knows what came;
    `early`: the stop was put early since the flow was too fast for the window; `coarse_g_s`: the flow before braking;
    `dribbles`: the short pours after it.
    """

    flow_g_s: float | None
    came_g: float | None
    early: bool
    coarse_g_s: float
    dribbles: tuple[Dribbled, ...] = ()


@dataclass(frozen=True, slots=True)
class Learned:
    """Run-on, how early to brake, and flows in g/s: `trickle_g_s` is the smallest one seen at a stop."""

    runon: RunOn
    brake: float = 1.0
    coarse_g_s: float | None = None
    trickle_g_s: float | None = None
    dribble: Line | None = None
    pours: int = 0


def nothing_yet(lag_s: float) -> Learned:
    """What is assumed of a stranger at a scale of this lag."""
    return Learned(stranger(lag_s))


def learn(learned: Learned, lesson: Lesson, task: Task) -> Learned:
    """What is known after one more pour."""
    if lesson.flow_g_s is not None and lesson.came_g is not None:
        flow = lesson.flow_g_s
        factor = BRAKE_UP if lesson.early else BRAKE_DOWN
        learned = replace(
            learned,
            runon=taught(learned.runon, flow, lesson.came_g, floor_var(task)),
            brake=max(BRAKE_LEAST, min(BRAKE_MOST, learned.brake * factor)),
            trickle_g_s=flow if learned.trickle_g_s is None else min(learned.trickle_g_s * 1.1, flow),
        )
    if lesson.dribbles:
        learned = replace(learned, dribble=dribble_line(learned, lesson.dribbles, task).doubted(1.3))
    coarse = lesson.coarse_g_s
    if learned.coarse_g_s is not None:
        coarse = learned.coarse_g_s + QUICK * (coarse - learned.coarse_g_s)
    return replace(learned, coarse_g_s=coarse, pours=learned.pours + 1)


def dribble_line(learned: Learned, dribbles: tuple[Dribbled, ...], task: Task) -> Line:
    """What a dribble brings, by what is learned and those of this pour."""
    line = learned.dribble or unknown(task, learned.trickle_g_s)
    for dribble in dribbles:
        line = after(line, dribble, task)
    return line
