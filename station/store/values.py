"""Values of the derived tables, read back: one that was never written there is damage, and no bug of who reads."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from enum import Enum
from typing import TypeVar

from station.store.faults import RecordDamaged
from station.texts import t

Kind = TypeVar("Kind", bound=Enum)


def kind_of(kinds: type[Kind], found: object) -> Kind:
    """The one of `kinds` that is written as `found`. Raises RecordDamaged."""
    try:
        return kinds(found)
    except ValueError:
        wrong = repr(found)[:40]
        raise RecordDamaged(t("The record is damaged. {wrong} was never written to it.", wrong=wrong)) from None


@contextmanager
def values_of(number: int) -> Iterator[None]:
    """Within it, a value of cast `number` that has the wrong type or form becomes RecordDamaged."""
    try:
        yield
    except (TypeError, ValueError) as why:
        raise RecordDamaged(t("Cast {number} cannot be read: the record is damaged.", number=number)) from why
