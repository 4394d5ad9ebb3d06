"""Patterns: how each cue and alarm sounds on one on/off buzzer, as data. Times in seconds.

No two cues that ask for different things sound alike: they differ in the number of pulses or in their
length (short ≤ 0.15 s, long ≥ 0.4 s), so that they are told apart through ear defenders.

The alarms repeat in bursts of 3 (first minute) and 3 + 2 twice (after it). IEC 60601-1-8 uses bursts of 3
for medium and of 10 as 3 + 2, repeated, for high priority; its timing is from memory here, and no
conformity is claimed.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from station.core.cues import Cue, Urgency

Pulse = tuple[float, float]
"""Seconds on, seconds off."""

Pattern = tuple[Pulse, ...]

SHORT, LONG, GAP = 0.08, 0.45, 0.09


def short(count: int) -> Pattern:
    """So many short pulses."""
    return ((SHORT, GAP),) * count


def long(count: int) -> Pattern:
    """So many long pulses."""
    return ((LONG, GAP * 2),) * count


CUES: Mapping[Cue, Pattern] = MappingProxyType(
    {
        Cue.NEAR: short(1),
        Cue.STOP: long(1),
        Cue.ACCEPTED: short(2),
        Cue.TARED: (*short(1), (LONG, GAP)),
        Cue.CUP_KNOWN: (*short(1), (LONG, GAP)),
        Cue.GO_ON: short(1),
        Cue.READY: short(1),
        Cue.CONTACT: (*short(1), *long(1), *short(1)),
        Cue.MIX_ENOUGH: short(4),
        Cue.OVER: long(2),
        Cue.RECOMPUTED: (*long(1), *short(2)),
        Cue.KEPT_IN_MEMORY: (*short(2), *long(2)),
        Cue.LOST: long(4),
        Cue.REFUSED: (*long(1), *short(1)),
        Cue.PAUSED: (*long(2), *short(1)),
        Cue.RESUMED: (*short(1), *long(2)),
        Cue.CUP_LIFTED: (*short(2), *long(1)),
        Cue.NO_SCALE: long(3),
        Cue.DONE: (*short(3), *long(1)),
        Cue.ACKNOWLEDGED: (*short(3), *long(2)),
        Cue.DEMOLDED: (*long(1), *short(1), *long(1)),
    }
)
"""Cues that share a pattern ask for the same: go on (NEAR is heard only while pouring, GO_ON never).

Three short pulses belong to the alarms alone.
"""

DOOR: Pattern = (*long(1), *short(4))
"""Every device was locked out, and a code is announced. No cue of the bench: nothing of a cast has changed."""

TICK = 0.04
"""A tick of the pace: half as long as a short pulse, so that it is taken for none."""

SLOWEST_S, QUICKEST_S = 0.8, 0.14
"""From one tick to the next, for a hand that is hardly slowed and for one that shall only trickle."""

SILENT_PACE = 0.05
"""Below that the hand pours as it likes, and nothing ticks."""


def ticks(pace: float | None) -> Pattern:
    """The pace as ticks that come the quicker the slower the hand shall pour: like steps toward the target."""
    if pace is None or pace < SILENT_PACE:
        return ()
    period_s = SLOWEST_S * (QUICKEST_S / SLOWEST_S) ** min(1.0, pace)
    return ((TICK, round(period_s, 2) - TICK),)


STOP_HZ = 440.0
"""The pitch of every cue and alarm of a tonal buzzer, the stop among them."""

LOWEST_STEP, HIGHEST_STEP = 5, 12
"""Ticks of a tonal buzzer begin a fourth above that and rise to its octave, in semitones. Nothing else is so high."""


def pitch_hz(pace: float | None) -> float:
    """How high a tonal buzzer ticks: the higher the thinner the stream shall be, in equal temperament."""
    rise = (HIGHEST_STEP - LOWEST_STEP) * min(1.0, max(0.0, pace or 0.0))
    return STOP_HZ * float(2 ** ((LOWEST_STEP + round(rise)) / 12))


_BURST: Pattern = ((0.15, 0.1), (0.15, 0.1), (0.15, 0.1))
_PAIR: Pattern = ((0.15, 0.1), (0.15, 0.35))

ALARMS: Mapping[Urgency, Pattern] = MappingProxyType(
    {
        Urgency.CALM: (),
        Urgency.FIRST: (*_BURST[:2], (0.15, 4.0)),
        Urgency.STRONG: (*_BURST[:2], (0.15, 0.3), *_PAIR, *_BURST[:2], (0.15, 0.3), *_PAIR[:1], (0.15, 1.6)),
    }
)
"""One round each, repeated without end until the alarm is acknowledged."""

REMINDER_PULSES = 3
"""So many pulses of a round must sound before an alarm counts as heard."""


def length_s(pattern: Pattern) -> float:
    """How long one round lasts."""
    return sum(on + off for on, off in pattern)
