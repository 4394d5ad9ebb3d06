"""Stopping: where the stop must be said so that an overshoot stays as rare as asked for."""

from __future__ import annotations

import math
from dataclasses import dataclass

from station.core.guidance.runon import RunOn
from station.core.guidance.task import Task

SHORT_OF = 0.1
"""The aim lies this part of the tolerance below the target: too little can be mended."""

DROP_G = 0.03
"""Scatter of what a last drop brings (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Outlook:
    """How many grams remain before the stop must be said, and whether the aim was lowered for safety."""

    left_g: float
    lowered_g: float


def floor_var(task: Task) -> float:
    """Variance in g² that no skill removes: rounding and drops."""
    return (0.4 * task.d_g) ** 2 + DROP_G**2


def outlook(task: Task, runon: RunOn, mass_g: float, flow_g_s: float) -> Outlook:
    """What is left to pour at this level and flow before the word "stop"."""
    flow = max(0.0, flow_g_s)
    spread = math.sqrt(floor_var(task) + runon.var(flow))
    lowered = max(0.0, task.strength.value * spread - task.tolerance_g)
    aim = task.target_g - SHORT_OF * task.tolerance_g - lowered
    return Outlook(aim - mass_g - runon.comes(flow), lowered)
