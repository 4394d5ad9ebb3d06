"""What a table of the export is: its columns with their kinds, and how each value is got."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime
from enum import Enum
from typing import TYPE_CHECKING, Final, Generic, TypeVar

from station.texts import N_

if TYPE_CHECKING:
    from station.core.plan import CastPlan
    from station.insight.facts import CastFacts
    from station.records import BatchRecord

FORMAT: Final = 1
"""Rises when a column is renamed, goes, or means something else; never for a new one."""

Value = str | int | float | bool | datetime | None
T = TypeVar("T")


class Kind(Enum):
    """What the values of a column are. The value is its name in words."""

    TEXT = N_("text")
    """As somebody has typed or said it."""
    WORD = N_("word")
    """One of a fixed list, always in English."""
    WHOLE = N_("whole number")
    MASS = N_("whole milligrams")
    NUMBER = N_("number")
    FLAG = N_("yes or no")
    TIME = N_("time in UTC")


@dataclass(frozen=True, slots=True)
class Told:
    """What is told of one cast: its record, the plan with which it was begun, and its facts once it was poured."""

    record: BatchRecord
    plan: CastPlan
    facts: CastFacts | None = None


@dataclass(frozen=True, slots=True)
class Column(Generic[T]):
    """A column: its name in every file, what its values are, what they mean (with the unit), how one is got."""

    name: str
    kind: Kind
    words: str
    of: Callable[[T], Value]


@dataclass(frozen=True, slots=True)
class Table(Generic[T]):
    """A table: what its lines are, in words, its columns, and the lines of one cast."""

    name: str
    words: str
    each: Callable[[Told], Iterable[T]]
    columns: tuple[Column[T], ...]

    def rows(self, told: Told) -> list[dict[str, Value]]:
        """The lines of one cast, each with a value for every column."""
        return [{column.name: column.of(line) for column in self.columns} for line in self.each(told)]

    def kinds(self) -> dict[str, Kind]:
        """Each column's kind, by name."""
        return {column.name: column.kind for column in self.columns}
