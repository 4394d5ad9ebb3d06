"""Beginning a cast at the bench: as it was just planned, or from the queue, by a page or by a press."""

from __future__ import annotations

from station.core import events as ev
from station.core import messages as msg
from station.core.alarms import sounding
from station.core.cues import Cue
from station.core.lanes import Lane, next_number
from station.core.mold_care import retired_words
from station.core.moment import gap_s
from station.core.plan import CastPlan
from station.core.queueing import first_or, news, next_plan
from station.core.steps import WeighEmptied
from station.core.turn import Turn
from station.errors import Refused
from station.texts import t

JUST_S = 3.0
"""A press within this time after a cast has left the bench is one too many, and begins nothing."""


def begin(turn: Turn, plan: CastPlan, by: str, lane: Lane | None, first: str = "") -> int:
    """Begin a cast; its number. `first` is said before all else. Raises Refused while another is at the bench.

    It is refused for a retired mold, too: that may have been retired since the plan was worked out.
    """
    if retired := retired_words(plan.mold, turn.standing.molds):
        raise Refused(retired)
    _make_room(turn, by)
    number = next_number(turn.standing.last_number, lane)
    turn.record(ev.CastBegun(number, plan, by))
    turn.say(Cue.GO_ON, " ".join(filter(None, (t("Cast {number}.", number=number), first, plan.way_reason))))
    return number


def begins_next(turn: Turn, press: msg.Pressed) -> bool:
    """At a free bench that nothing calls to, a short press begins what waits first."""
    free = turn.standing.bench is None and not sounding(turn.standing)
    return press.press is msg.Press.SHORT and free and bool(turn.standing.queue)


def begin_next(turn: Turn, press: msg.Pressed, lane: Lane | None) -> None:
    """Begin what waits first. Raises Refused right after a cast has left the bench: such a press was meant for that."""
    for cast in turn.standing.casts:
        freed = gap_s(cast.since, turn.now)
        if freed is not None and freed < JUST_S:
            raise Refused(
                t("Cast {number} has only just left the bench.", number=cast.number),
                t("Press again to begin {mold}.", mold=turn.standing.queue[0].plan.mold.title),
            )
    take(turn, msg.TakeQueued(None, press.by), lane)


def take(turn: Turn, command: msg.TakeQueued, lane: Lane | None) -> None:
    """Begin a cast from the queue. Raises Refused when it cannot be cast any more, or not now."""
    queued = first_or(turn.standing, command.ticket)
    plan = next_plan(turn, queued)
    number = begin(turn, plan, command.by, lane, news(queued.plan, plan))
    turn.record(ev.QueueTaken(queued.ticket, number, command.by))


def _make_room(turn: Turn, by: str) -> None:
    """One cast at the bench at a time; only the weighing of emptied cups gives way to the next."""
    cast = turn.standing.bench
    while cast is not None and isinstance(cast.step, WeighEmptied):
        turn.record(ev.StepDone(cast.number, cast.position, by, early=True))
        cast = turn.standing.bench
    if cast is not None:
        raise Refused(t("Cast {number} is at the bench.", number=cast.number), t("Finish it or give it up first."))
