"""Clocks of a cast: when they started, how long they run, what they say when due, who acknowledged it.

A clock is stored facts; due, remaining and sounding are computed from them and the present moment.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from station.casting.cure import CureState
from station.core.moment import Moment
from station.texts import N_


class ClockKind(Enum):
    """What a clock counts, most urgent first. The value is its name in words."""

    POT_LIFE = N_("pot life")
    POUR_BY = N_("pour by")
    MIX = N_("mix")
    DEMOLD = N_("demold")
    FULL_CURE = N_("full cure")


MAXIMA = frozenset({ClockKind.POT_LIFE, ClockKind.POUR_BY})
"""Limits not to exceed: time off counts as used up. The others are minima: unknown time off counts as nothing."""

ALARMING = frozenset({ClockKind.POT_LIFE, ClockKind.POUR_BY, ClockKind.DEMOLD, ClockKind.FULL_CURE})
"""Clocks whose end is an alarm, latched until acknowledged. The end of the mix clock is a short cue."""


class AlarmState(Enum):
    """Where an alarm stands."""

    WAITING = N_("waiting")
    SOUNDING = N_("sounding")
    ACKNOWLEDGED = N_("acknowledged")
    STOPPED = N_("stopped")


@dataclass(frozen=True, slots=True)
class Gap:
    """A stretch of unknown length inside a clock that may become known later: the power cut before boot `boot_id`.

    `extra_s` is what belongs to the stretch besides the cut; each second counts `counts` seconds of age. `off_s` is
    the length of the cut once it is known, and then stands in the clock's age. An empty `boot_id`: never to be known.
    """

    boot_id: str
    counts: float
    extra_s: float = 0.0
    off_s: float | None = None


@dataclass(frozen=True, slots=True)
class Clock:
    """One clock of one cast.

    `age` is the progress up to a moment (for a maximum plain seconds, for a minimum equivalent age);
    `length_s` the seconds at which it is due. `unknown_gap` says that a power cut of unknown length lies
    inside; `topped_s` is the part of the age that only stands for such cuts, on the safe side.
    `raised` is when the alarm began to sound, `acknowledged_by` who silenced it.
    """

    kind: ClockKind
    started: Moment
    length_s: float
    age: CureState
    state: AlarmState = AlarmState.WAITING
    raised: Moment | None = None
    acknowledged: Moment | None = None
    acknowledged_by: str = ""
    unknown_gap: bool = False
    gaps: tuple[Gap, ...] = ()
    topped_s: float = 0.0
