"""Kinds kept by their names in a column, read back; a name that is none is damage."""

from __future__ import annotations

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
