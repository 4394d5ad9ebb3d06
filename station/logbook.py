"""Logbook: the record's archive as the pages of the log ask it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from station.core.trace import Points
from station.insight.facts import CastFacts
from station.records import Asked, BatchRecord, CastPage, Known
from station.store.archive import Archive
from station.store.batch_record import as_dict, as_text


class Logbook:
    """Implements `phone.log_view.LogBook` and `phone.insight_typed.FactBook`."""

    def __init__(self, archive: Archive) -> None:
        self._archive = archive

    def page(self, asked: Asked, *, before: int | None = None, after: int | None = None, limit: int = 30) -> CastPage:
        """Of the casts asked for those numbered below `before`, or above `after`: the nearest `limit`, newest first."""
        return self._archive.page(asked, before=before, after=after, limit=limit)

    def number(self, wanted: int) -> bool:
        """Whether there is a cast of this number."""
        return self._archive.number(wanted)

    def molds(self) -> Sequence[Known]:
        """Every mold that was ever cast in."""
        return self._archive.molds()

    def materials(self) -> Sequence[Known]:
        """Every material that was ever cast."""
        return self._archive.materials()

    def facts(
        self,
        *,
        mold: str = "",
        material: str = "",
        last: int = 60,
        since: datetime | None = None,
        until: datetime | None = None,
    ) -> Sequence[CastFacts]:
        """Of the poured casts asked for the newest `last`, the oldest of them first."""
        return self._archive.facts(mold=mold, material=material, last=last, since=since, until=until)

    def record(self, number: int) -> BatchRecord | None:
        """The whole batch record of a cast."""
        return self._archive.record(number)

    def trace(self, number: int, step: int) -> Points | None:
        """What the scale showed in a step."""
        return self._archive.trace(number, step)

    def text(self, record: BatchRecord) -> str:
        """A record as plain text."""
        return as_text(record)

    def plain(self, record: BatchRecord) -> dict[str, Any]:
        """A record as JSON has it."""
        return as_dict(record)
