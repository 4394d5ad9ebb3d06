"""Turn: what one message does to the bench, gathered while it is worked out.

The only mutable thing in the core, and it never leaves the call that made it: `step` stays a pure function.
Every event is folded in at once, so what comes after it in the same turn already sees its result.
"""

from __future__ import annotations

from dataclasses import replace

from station.core.cues import Cue
from station.core.effects import Effect, KeepTime, KeepTrace, Record, Say
from station.core.events import Entry, Event
from station.core.fold import apply
from station.core.guidance.task import Leading
from station.core.material import ScaleCard
from station.core.moment import Moment
from station.core.pan import Pan, fresh
from station.core.standing import Cast, Standing
from station.core.steps import PlaceCup, ReadyCheck, Weigh
from station.core.trace import digest_of

LED = Leading()


class Turn:
    """Standing and pan as they become, and the effects so far."""

    def __init__(self, standing: Standing, pan: Pan, now: Moment, leading: Leading = LED) -> None:
        self.standing = standing
        self.pan = pan
        self.now = now
        self.leading = leading
        self.effects: list[Effect] = []

    @property
    def cast(self) -> Cast:
        """The cast at the bench, which must be there."""
        cast = self.standing.bench
        assert cast is not None
        return cast

    @property
    def card(self) -> ScaleCard:
        """The scale of the cast at the bench, or of the practice at a free one; one of them must be there."""
        cast = self.standing.bench
        if cast is not None:
            return cast.plan.scale
        assert self.pan.practice is not None
        return self.pan.practice.card

    def record(self, event: Event) -> None:
        """Let it be a fact."""
        before = self.standing.bench
        self.effects.append(Record(event))
        self.standing = apply(self.standing, Entry(event, self.now))
        after = self.standing.bench
        if before is None or after is None:
            if before is not after:
                self.pan = fresh(self.pan, same_cup=False)
        elif (before.number, before.position) != (after.number, after.position):
            self.pan = fresh(self.pan, same_cup=_stays(before, after))

    def say(self, cue: Cue, words: str) -> None:
        """Sound a cue once the facts are written down."""
        self.effects.append(Say(cue, words))

    def say_once(self, cue: Cue, words: str) -> None:
        """The same, but only once in a step."""
        if cue not in self.pan.said:
            self.say(cue, words)
            self.pan = replace(self.pan, said=self.pan.said | {cue})

    def keep_time(self, offset_s: float) -> None:
        """Let the clock go by this offset until a time service is heard."""
        self.effects.append(KeepTime(offset_s))

    def keep_trace(self, number: int, step: int) -> str:
        """Keep the readings of the present step; their digest, for the row that says what came of them."""
        if not self.pan.trace:
            return ""
        began = self.pan.trace[0][0]
        points = tuple((round(at - began, 3), mg) for at, mg in self.pan.trace)
        self.effects.append(KeepTrace(number, step, points))
        return digest_of(points)


def _stays(before: Cast, after: Cast) -> bool:
    """Whether the cup on the pan is still the one that the next step weighs into.

    A ready check in between changes nothing: the cup stands there and is watched meanwhile.
    """
    if isinstance(after.step, ReadyCheck):
        return isinstance(before.step, Weigh)
    if not isinstance(after.step, Weigh):
        return False
    if isinstance(before.step, ReadyCheck):
        return bool(after.accepted) and after.accepted[-1].cup == after.step.cup
    return isinstance(before.step, Weigh | PlaceCup) and before.step.cup == after.step.cup
