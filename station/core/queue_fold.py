"""What the events of the queue make of the durable state. A part of `fold`."""

from __future__ import annotations

from dataclasses import replace
from typing import assert_never

from station.core.queue_events import CastQueued, QueueDropped, QueueMoved, QueueTaken
from station.core.standing import Standing

QueueEvent = CastQueued | QueueMoved | QueueTaken | QueueDropped


def queue_after(standing: Standing, event: QueueEvent) -> Standing:
    """The state after one of them; one about a ticket that is not in the queue changes nothing."""
    others = tuple(one for one in standing.queue if one.ticket != event.ticket)
    match event:
        case CastQueued(ticket=ticket):
            return replace(standing, queue=(*others, event), last_ticket=max(ticket, standing.last_ticket))
        case QueueMoved(place=place):
            moved = tuple(one for one in standing.queue if one.ticket == event.ticket)
            at = max(0, place - 1)
            return replace(standing, queue=(*others[:at], *moved, *others[at:]))
        case QueueTaken() | QueueDropped():
            return replace(standing, queue=others)
        case _:
            assert_never(event)
