"""The bare pan, and how far a cup that comes back may be off: what all who look at cups agree on."""

from __future__ import annotations

from dataclasses import replace

from station.core.cues import Cue
from station.core.mass import Mass
from station.core.material import ScaleCard
from station.core.rest import last
from station.core.turn import Turn

LEAST_CUP = Mass(4000)
"""Lighter than this nothing on the pan is taken for a cup."""

LIFT_S = 0.35


def recognition_mg(card: ScaleCard) -> int:
    """How far a cup may be off and still be the same: a few steps, or a drop on its outside."""
    return max(3 * card.readability.mg, 500)


def watch_empty(turn: Turn) -> None:
    """Notice that the pan was cleared: below any cup for a moment, at rest or not."""
    recent = last(turn.pan.window, LIFT_S)
    if recent is not None and all(point.mg < LEAST_CUP.mg for point in recent):
        turn.pan = replace(turn.pan, emptied=True, used=False, complaint="", said=turn.pan.said - {Cue.REFUSED})
