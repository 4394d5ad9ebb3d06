"""Score: what the buzzer does at any instant, when cues come in between the rounds of an alarm.

Pure of threads and clocks: every call is handed the time, in seconds of any clock that never runs back.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum

from station.signals.patterns import REMINDER_PULSES, Pattern, length_s

AFTER_CUE_S = 0.4
"""Silence between a cue and the next round of an alarm, so that neither is taken for part of the other."""

BREATH_S = 0.06
"""Silence before a pattern that replaces a sounding one: two pulses must not run together into a long one."""

ALARM_WITHIN_S = 9.0
"""Longest silence of an alarm, however many cues come. Then a cue waits for three pulses (0.65 s)."""


class Part(Enum):
    """What is being played."""

    CUE = "cue"
    ROUND = "one round of an alarm"
    TICK = "one tick of the pace, which gives way to all else"
    REMINDER = "the first pulses of an alarm, that no cue may cut off"


@dataclass(frozen=True, slots=True)
class Playing:
    """A pattern and when it began (or will begin, if a breath comes first)."""

    part: Part
    pattern: Pattern
    from_s: float

    @property
    def end_s(self) -> float:
        """When its last rest is over."""
        return self.from_s + length_s(self.pattern)

    @property
    def heard_s(self) -> float:
        """When so much of an alarm has sounded that it counts as heard."""
        return self.from_s + length_s(self.pattern[:REMINDER_PULSES]) - self.pattern[:REMINDER_PULSES][-1][1]


class Score:
    """A new cue replaces a running one; an alarm goes on after a cue and never keeps one waiting for long."""

    def __init__(self) -> None:
        self._playing: Playing | None = None
        self._waiting: Pattern = ()
        self._alarm: Pattern = ()
        self._pace: Pattern = ()
        self._next_tick_s = 0.0
        self._next_round_s = 0.0
        self._heard_s = 0.0
        self._sounded_s = float("-inf")

    def cue(self, pattern: Pattern, now_s: float) -> None:
        """Play this once, as soon as may be."""
        self._settle(now_s)
        playing = self._playing
        if playing is not None and playing.part is Part.REMINDER:
            self._waiting = pattern
            return
        if self._alarm and now_s + length_s(pattern) + AFTER_CUE_S > self._heard_s + ALARM_WITHIN_S:
            self._waiting = pattern
            self._remind(now_s)
            return
        if playing is not None and playing.part is Part.ROUND:
            self._next_round_s = playing.end_s if playing.heard_s <= now_s else now_s
        self._begin(Part.CUE, pattern, now_s)

    def hold(self, alarm: Pattern, now_s: float) -> None:
        """Repeat this from now on; nothing when empty."""
        if alarm == self._alarm:
            return
        self._settle(now_s)
        if not self._alarm:
            self._heard_s = now_s
        self._alarm, self._next_round_s = alarm, now_s
        if self._playing is None or self._playing.part is Part.CUE:
            return
        waiting, self._waiting = self._waiting, ()
        if waiting:
            self._begin(Part.CUE, waiting, now_s)
        else:
            self._next_round_s = self._after_a_breath(now_s)
            self._playing = None

    def pace(self, ticks: Pattern, now_s: float) -> None:
        """Tick like this from now on, wherever nothing else is played; nothing when empty. Never over an alarm."""
        if ticks == self._pace:
            return
        self._settle(now_s)
        self._pace = ticks
        playing = self._playing
        if playing is not None and playing.part is Part.TICK:
            # A tick that sounds is played to its end; the silence after it is as long as the new pace asks for.
            self._sounded_s = max(self._sounded_s, _last_sound_s(playing, now_s))
            self._next_tick_s = playing.from_s + length_s(ticks) if ticks else now_s
            self._playing = replace(playing, pattern=((playing.pattern[0][0], 0.0),))
            self._settle(now_s)

    @property
    def ticking(self) -> bool:
        """Whether what is being played is a tick of the pace."""
        return self._playing is not None and self._playing.part is Part.TICK

    def at(self, now_s: float) -> tuple[bool, float | None]:
        """Whether it sounds now, and until when that holds if nothing comes in; None: for good."""
        self._settle(now_s)
        if self._playing is None:
            if self._alarm:
                return False, self._next_round_s
            return False, self._next_tick_s if self._pace else None
        return _sounds(self._playing, now_s)

    def _settle(self, now_s: float) -> None:
        """Everything that has ended by now has ended, and what follows it has begun."""
        playing = self._playing
        if playing is not None and playing.part is not Part.CUE and playing.heard_s <= now_s:
            self._heard_s = playing.heard_s
        if playing is not None and playing.end_s <= now_s:
            self._playing = None
            match playing.part:
                case Part.CUE:
                    self._next_round_s = max(self._next_round_s, playing.end_s + AFTER_CUE_S)
                    self._next_tick_s = playing.end_s + AFTER_CUE_S
                case Part.ROUND:
                    self._next_round_s = playing.end_s
                case Part.TICK:
                    self._next_tick_s = max(self._next_tick_s, playing.end_s)
                case Part.REMINDER:
                    self._next_round_s = playing.end_s + self._alarm[-1][1]
                    self._playing = Playing(Part.CUE, self._waiting, playing.end_s)
                    self._waiting = ()
        if self._playing is None and self._alarm and self._next_round_s <= now_s:
            self._playing = Playing(Part.ROUND, self._alarm, now_s)
        if self._playing is None and self._pace and not self._alarm and self._next_tick_s <= now_s:
            self._playing = Playing(Part.TICK, self._pace, self._after_a_breath(now_s))

    def _remind(self, now_s: float) -> None:
        """Let the alarm be heard before the waiting cue; a round that has just begun will do."""
        playing = self._playing
        pulses = self._alarm[:REMINDER_PULSES]
        pulses = (*pulses[:-1], (pulses[-1][0], AFTER_CUE_S))
        if playing is None or playing.part is Part.CUE or playing.heard_s <= now_s:
            self._begin(Part.REMINDER, pulses, now_s)
        else:
            self._playing = Playing(Part.REMINDER, pulses, playing.from_s)

    def _begin(self, part: Part, pattern: Pattern, now_s: float) -> None:
        self._playing = Playing(part, pattern, self._after_a_breath(now_s))

    def _after_a_breath(self, now_s: float) -> float:
        if self._playing is not None:
            self._sounded_s = max(self._sounded_s, _last_sound_s(self._playing, now_s))
        return max(now_s, self._sounded_s + BREATH_S)


def _sounds(playing: Playing, now_s: float) -> tuple[bool, float]:
    edge_s = playing.from_s
    if now_s < edge_s:
        return False, edge_s
    for on_s, off_s in playing.pattern:
        if now_s < edge_s + on_s:
            return True, edge_s + on_s
        edge_s += on_s + off_s
        if now_s < edge_s:
            return False, edge_s
    return False, playing.end_s


def _last_sound_s(playing: Playing, now_s: float) -> float:
    """The latest instant up to now at which it sounded."""
    edge_s, last_s = playing.from_s, float("-inf")
    for on_s, off_s in playing.pattern:
        if edge_s <= now_s:
            last_s = min(now_s, edge_s + on_s)
        edge_s += on_s + off_s
    return last_s
