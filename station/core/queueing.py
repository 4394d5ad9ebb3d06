"""The queue: plans that wait for the bench. Each is worked out when it is queued, and once more when it is begun."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import astuple, replace

from station.core import events as ev
from station.core import messages as msg
from station.core.mold_care import poured
from station.core.moment import Moment
from station.core.plan import CastPlan
from station.core.planning import planned
from station.core.standing import Standing
from station.core.steps import ReadyCheck
from station.core.turn import Turn
from station.core.workplace import Workplace
from station.errors import Refused
from station.metrology.promise import ScalePromise
from station.texts import t

LONGEST = 12
"""More plans than this are no queue for a day; each of them is carried in every checkpoint."""


def plan_now(queued: ev.CastQueued, standing: Standing, now: Moment) -> CastPlan:
    """The plan as it has become: with what is left of its lots, in the bench's air now.

    Raises Refused with every reason why it cannot work any more.
    """
    return plan_in(queued, _place_of(queued, standing, now), standing)


def plan_in(queued: ev.CastQueued, place: Workplace, standing: Standing) -> CastPlan:
    """The plan as it has become at this place. Raises Impossible with every reason why it cannot work any more."""
    plan = queued.plan
    return planned(plan.material, plan.mold, queued.amount, place=place, standing=standing, lots=plan.lots)


def _place_of(queued: ev.CastQueued, standing: Standing, now: Moment) -> Workplace:
    plan = queued.plan
    return Workplace(
        scale=plan.scale,
        cup=plan.cup,
        ready_check=any(isinstance(step, ReadyCheck) for step in plan.steps),
        weighing_s=plan.weighing_s,
        temperature_c=standing.temperature_c,
        humidity_percent=standing.humidity_percent,
        # The day in UTC: half a day more or less decides nothing about a container.
        today=now.wall.date() if now.trusted else None,
        promise=ScalePromise(*queued.promise) if queued.promise else None,
    )


def after(standing: Standing, plans: Iterable[CastPlan]) -> Standing:
    """The state with lots and molds as these casts will leave them, if each takes what it has planned."""
    for plan in plans:
        standing = replace(standing, molds=poured(standing.molds, plan.mold.key))
        for lot in plan.lots:
            takes = next((share.planned for share in plan.shares if share.ingredient == lot.component), None)
            if takes is not None:
                use = standing.use_of(lot.number)
                standing = standing.with_use(replace(use, used=use.used + takes))
    return standing


def first_or(standing: Standing, ticket: int | None) -> ev.CastQueued:
    """The plan with this ticket, or the first of the queue. Raises Refused when there is none."""
    found = next((one for one in standing.queue if ticket in (None, one.ticket)), None)
    if found is None:
        raise Refused(t("That plan is not in the queue any more."), t("Look at the queue again."))
    return found


def enqueue(turn: Turn, command: msg.QueueCast) -> None:
    """Put a plan at the end of the queue, or in the place of another."""
    queue = turn.standing.queue
    if command.instead is not None:
        first_or(turn.standing, command.instead)
    elif len(queue) >= LONGEST:
        raise Refused(t("{longest} casts wait already.", longest=LONGEST), t("Begin or remove one of them first."))
    ticket = turn.standing.last_ticket + 1
    promise = () if command.promise is None else astuple(command.promise)
    turn.record(ev.CastQueued(ticket, command.plan, command.amount, promise, command.typed.strip(), command.by))
    if command.instead is not None:
        place = next(at for at, one in enumerate(queue, 1) if one.ticket == command.instead)
        turn.record(ev.QueueDropped(command.instead, command.by))
        turn.record(ev.QueueMoved(ticket, place, command.by))


def drop(turn: Turn, command: msg.DropQueued) -> None:
    """Take a plan out of the queue."""
    turn.record(ev.QueueDropped(first_or(turn.standing, command.ticket).ticket, command.by))


def move(turn: Turn, command: msg.MoveQueued) -> None:
    """Give a plan another place in the queue."""
    ticket = first_or(turn.standing, command.ticket).ticket
    if not 1 <= command.place <= len(turn.standing.queue):
        raise Refused(
            t("The queue has no place {place}.", place=command.place),
            t("Its places are 1 to {count}.", count=len(turn.standing.queue)),
        )
    turn.record(ev.QueueMoved(ticket, command.place, command.by))


def next_plan(turn: Turn, queued: ev.CastQueued) -> CastPlan:
    """The plan that is to be begun, worked out once more. Raises Refused that names it."""
    try:
        return plan_now(queued, turn.standing, turn.now)
    except Refused as why:
        raise Refused(
            t("{mold} cannot be begun as it was queued. {why}", mold=queued.plan.mold.title, why=why), why.hint
        ) from None


def news(queued: CastPlan, plan: CastPlan) -> str:
    """What has to be read of a plan that was not so when it was queued; empty when nothing is."""
    return " ".join(said for said in plan.warnings if said not in queued.warnings)
