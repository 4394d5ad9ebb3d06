"""What the pages read besides the bench: sheets on the shelf, and the working out of a batch."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from station.core.material import Material, Mold
from station.core.messages import BeginCast, Command, QueueCast
from station.core.plan_checks import Check

Ask = Callable[[Command], int | None]
"""Hands a command to the bench and waits for its answer. Raises Refused, or Fault when the bench does not answer."""


@dataclass(frozen=True, slots=True)
class Chosen:
    """What a form of a new cast is filled with: keys, the amount as it is typed, and a lot number by ingredient."""

    material: str
    mold: str
    amount: str
    lots: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Recent:
    """The latest cast in a mold, to be cast again."""

    number: int
    mold: str
    material: str


@dataclass(frozen=True, slots=True)
class QueueLine:
    """A plan that waits for the bench, and what its checks find now, after all that waits before it."""

    ticket: int
    material: str
    mold: str
    total: str
    checks: Sequence[Check]


class Shelf(Protocol):
    """Read only; called from many threads at once."""

    def materials(self) -> Sequence[Material]:
        """The material sheets, in the order in which to offer them."""
        ...

    def molds(self) -> Sequence[Mold]:
        """The mold sheets, in the order in which to offer them."""
        ...

    def lots_of(self, material: Material) -> Mapping[str, Sequence[str]]:
        """Numbers of the lots on the shelf for each ingredient of a material, the one to use next first."""
        ...

    def plan(self, material: str, mold: str, total: str, lots: Mapping[str, str], by: str) -> BeginCast:
        """Work out a batch. `material` and `mold` are keys, `total` is what was typed (empty: the mold's usual shot).

        `lots` maps component names to lot numbers. Raises WrongField, or Impossible with every reason.
        """
        ...

    def for_queue(self, asked: Chosen, by: str, instead: int | None = None) -> QueueCast:
        """The same for the end of the queue, where what waits already takes its lots first.

        `instead`: the ticket of a plan that this one is to replace, and that takes nothing.
        """
        ...

    def waiting(self) -> Sequence[QueueLine]:
        """The queue, the next one first."""
        ...

    def queued(self, ticket: int) -> Chosen | None:
        """What was asked for with a plan that waits; None when it waits no more."""
        ...

    def again(self, number: int) -> Chosen | None:
        """What to ask for to repeat a cast, with the lots that go next where its own are used up."""
        ...

    def recent(self) -> Sequence[Recent]:
        """The latest casts, one of each mold, newest first. Raises Fault when the record cannot be read."""
        ...
