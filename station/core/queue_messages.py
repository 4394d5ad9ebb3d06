"""What a person tells the bench of the queue. A part of `messages`."""

from __future__ import annotations

from dataclasses import dataclass

from station.core.mix_amount import Amount
from station.core.plan import CastPlan
from station.metrology.promise import ScalePromise


@dataclass(frozen=True, slots=True)
class QueueCast:
    """Let this plan wait for the bench: last, or in place of the one with the ticket `instead`.

    The rest is for working it out again, see `queue_events.CastQueued`.
    """

    plan: CastPlan
    amount: Amount
    promise: ScalePromise | None
    typed: str
    by: str
    instead: int | None = None


@dataclass(frozen=True, slots=True)
class TakeQueued:
    """Begin the plan with this ticket; None: the first of the queue."""

    ticket: int | None
    by: str


@dataclass(frozen=True, slots=True)
class MoveQueued:
    """Give the plan with this ticket another place in the queue, the first of which is 1."""

    ticket: int
    place: int
    by: str


@dataclass(frozen=True, slots=True)
class DropQueued:
    """Take the plan with this ticket out of the queue."""

    ticket: int
    by: str


Queueing = QueueCast | TakeQueued | MoveQueued | DropQueued
