"""At hand: what a bench tells other benches of itself, and how that looks some time after it was told."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from station.core.clocks import ClockKind
from station.core.cues import Urgency
from station.core.snapshot import DialView, Snapshot

FAR_S = 400 * 86400.0


@dataclass(frozen=True, slots=True)
class CastAtHand:
    """A cast in hand or curing: `words` say what is to be done with it."""

    number: int
    material: str
    mold: str
    words: str
    at_bench: bool
    demolded: bool
    dials: tuple[DialView, ...]


@dataclass(frozen=True, slots=True)
class AlarmAtHand:
    """An alarm that sounds; `since_s` None: nobody knows for how long."""

    number: int
    clock: ClockKind
    since_s: float | None
    strong: bool
    words: str


@dataclass(frozen=True, slots=True)
class AtHand:
    """All casts at hand at one bench, that at the bench first, and its alarms, most urgent first."""

    casts: tuple[CastAtHand, ...] = ()
    alarms: tuple[AlarmAtHand, ...] = ()


def at_hand(seen: Snapshot) -> AtHand:
    """What of a snapshot concerns the other benches."""
    casts: list[CastAtHand] = []
    if seen.bench is not None:
        b = seen.bench
        casts.append(CastAtHand(b.number, b.material, b.mold, b.title, True, False, b.dials))
    for cast in seen.curing:
        casts.append(CastAtHand(cast.number, cast.material, cast.mold, cast.words, False, cast.demolded, cast.dials))
    alarms = tuple(
        AlarmAtHand(one.number, one.clock, one.since_s, one.urgency is Urgency.STRONG, one.words) for one in seen.alarms
    )
    return AtHand(tuple(casts), alarms)


def without_time(told: AtHand) -> AtHand:
    """The same, less everything that changes by mere passing of time: differs when something has happened."""
    return AtHand(
        tuple(
            replace(cast, dials=tuple(replace(d, fraction=0.0, left_s=0.0, due=None) for d in cast.dials))
            for cast in told.casts
        ),
        tuple(replace(alarm, since_s=None) for alarm in told.alarms),
    )


def aged(told: AtHand, seconds: float, wall: datetime) -> AtHand:
    """What was told `seconds` ago as it stands now, at wall time `wall` (UTC): clocks that ran have run on.

    Only what time alone does is worked out. Whether an alarm has begun to sound since, nobody can know.
    """
    return AtHand(
        tuple(replace(cast, dials=tuple(_aged(dial, seconds, wall) for dial in cast.dials)) for cast in told.casts),
        tuple(replace(a, since_s=None if a.since_s is None else a.since_s + seconds) for a in told.alarms),
    )


def _aged(dial: DialView, seconds: float, wall: datetime) -> DialView:
    left = dial.left_s - seconds
    fraction = dial.fraction
    if dial.left_s > 0 and not math.isinf(dial.left_s):
        fraction = min(1.0, fraction + (1 - fraction) * seconds / dial.left_s)
    due = wall + timedelta(seconds=left) if dial.due is not None and abs(left) < FAR_S else None
    return replace(dial, left_s=left, fraction=fraction, due=due)
