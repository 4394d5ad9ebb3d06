"""Pacing: how much the hand is to be slowed, from 0 (as you like) to 1 (the thinnest stream there is)."""

from __future__ import annotations

from station.core.guidance.learned import Learned
from station.core.guidance.task import Task

AFFORDED = 0.4
"""Part of the tolerance that the scatter of the stop may use."""

FIRMLY = 1.3
"""The slowing is reckoned from a flow so much larger than the sustained one: hands follow a pace only in part."""

BRAKING = 2.5
"""Braking lasts about so many run-on times."""

STRANGE = 0.5
"""With a stranger it lasts by this part longer, with the second pour by a quarter of that, and so on."""


def affordable_g_s(task: Task, learned: Learned) -> float:
    """The flow at which a stop still falls well within the window."""
    return AFFORDED * task.tolerance_g / (task.strength.value * learned.runon.scatter_s)


def wanted_g_s(task: Task, learned: Learned, left_g: float) -> float:
    """The flow that suits what is left before the stop."""
    strange = 1 + STRANGE / (1 + learned.pours) ** 2
    slow, time_s = affordable_g_s(task, learned), max(0.2, learned.runon.time_s)
    return slow + max(0.0, left_g - 2 * time_s * slow) / (BRAKING * strange * time_s * learned.brake)


def pace(task: Task, learned: Learned, left_g: float, flow_g_s: float, coarse_g_s: float) -> float:
    """0..1 from the wanted flow, firmer where the hand is faster than it should be."""
    wanted = wanted_g_s(task, learned, left_g)
    firm = 1.0 if flow_g_s <= wanted else wanted / flow_g_s
    return max(0.0, min(1.0, 1 - wanted / max(FIRMLY * coarse_g_s, 1e-6) * firm))
