"""Events of led pours: what one taught, and that somebody wants it forgotten.

Never rename a class or a field that has been released: the journal keeps both by name.
"""

from __future__ import annotations

from dataclasses import dataclass

from station.core.guidance.dribble import Dribbled
from station.core.mass import Mass


@dataclass(frozen=True, slots=True)
class PourLearned:
    """A pour of `ingredient` of the material of this key was led and is over; "" and "" for water in a practice.

    `d` and `lag_s` tell the scale. `flow_g_s` at the first stop, `came_g` after it (both None: not known); `early`: the
    stop lay early because the flow was too fast; `coarse_g_s` is the flow before braking; `dribbles` came after.
    """

    material: str
    ingredient: str
    d: Mass
    lag_s: float
    target: Mass
    flow_g_s: float | None
    came_g: float | None
    early: bool
    coarse_g_s: float
    dribbles: tuple[Dribbled, ...] = ()


@dataclass(frozen=True, slots=True)
class PoursForgotten:
    """What pours had taught until then shall count no more: of one ingredient, or of all where `everything`."""

    material: str
    ingredient: str
    everything: bool
    by: str


PouringEvent = PourLearned | PoursForgotten
