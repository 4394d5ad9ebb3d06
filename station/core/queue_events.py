"""Events of the queue: plans that wait for the bench, in an order. A part of `events`.

Never rename a class or a field that has been released: the journal keeps both by name.
"""

from __future__ import annotations

from dataclasses import dataclass

from station.core.mix_amount import Amount
from station.core.plan import CastPlan


@dataclass(frozen=True, slots=True)
class CastQueued:
    """A plan waits for the bench, last in the queue. `ticket` is its own number there, never given twice.

    `amount` with how it came about and `promise`, the figures of a `ScalePromise` in their order (none: not checked),
    are for working it out again when it is begun. `typed` is the amount as it was typed, empty for the mold's own.
    """

    ticket: int
    plan: CastPlan
    amount: Amount
    promise: tuple[float, ...]
    typed: str
    by: str


@dataclass(frozen=True, slots=True)
class QueueMoved:
    """The plan with this ticket now stands at `place` of the queue, the first of which is 1."""

    ticket: int
    place: int
    by: str


@dataclass(frozen=True, slots=True)
class QueueTaken:
    """The plan with this ticket left the queue and became cast `number`."""

    ticket: int
    number: int
    by: str


@dataclass(frozen=True, slots=True)
class QueueDropped:
    """The plan with this ticket left the queue without being cast."""

    ticket: int
    by: str
