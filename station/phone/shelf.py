"""What the pages read besides the bench: sheets on the shelf, the log of casts, and the working out of a batch."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol

from station.core.mass import Mass
from station.core.material import Material, Mold
from station.core.messages import BeginCast, Command

Ask = Callable[[Command], int | None]
"""Hands a command to the bench and waits for its answer. Raises Refused, or Fault when the bench does not answer."""


@dataclass(frozen=True, slots=True)
class CastLine:
    """One line of the log. `begun` is UTC; `trusted` says whether the wall clock was right then."""

    number: int
    begun: datetime
    trusted: bool
    material: str
    mold: str
    total: Mass
    outcome: str


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

    def casts(self, limit: int, offset: int) -> Sequence[CastLine]:
        """A part of the log, newest first. Raises Fault when it cannot be read."""
        ...

    def record_text(self, number: int) -> str | None:
        """The batch record of a cast as plain text; None when there is no such cast."""
        ...

    def plan(self, material: str, mold: str, total: str, lots: Mapping[str, str], by: str) -> BeginCast:
        """Work out a batch. `material` and `mold` are keys, `total` is what was typed (empty: the mold's usual shot).

        `lots` maps component names to lot numbers. Raises Refused with a sentence that names the field.
        """
        ...
