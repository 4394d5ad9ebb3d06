"""Sharing: joins this bench's own record with the log that several benches share."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from station.neighbours import SharedCast
from station.store import journal
from station.store.archive import Archive
from station.store.batch_record import as_text
from station.store.chain import Row
from station.store.engines import open_reader
from station.store.faults import told_as_faults
from station.store.projection import storable


class RecordFeed:
    """A `benches.feed.Feed` from the record at a path. Reads only."""

    def __init__(self, place: Path | str) -> None:
        self._place = place
        self._engine = open_reader(place)
        self._archive = Archive(place)

    def rows_after(self, seq: int, limit: int) -> Sequence[Row]:
        """The next rows of the journal. Raises LedgerFault."""
        with told_as_faults(self._place), self._engine.begin() as db:
            return journal.rows_after(db, seq, limit)

    def cast(self, number: int) -> SharedCast | None:
        """A cast with its whole batch record as text. Raises LedgerFault."""
        record = self._archive.record(number)
        if record is None:
            return None
        return SharedCast(
            bench=0,  # whose it is, the copy itself says
            number=number,
            begun=record.course.begun.wall,
            sure=record.course.begun.sure,
            material=storable(record.material),
            mold=storable(record.mold),
            total=record.planned_total,
            stage=record.stage.value,
            text=storable(as_text(record)),
        )

    def close(self) -> None:
        """Let go of the record."""
        self._archive.close()
        self._engine.dispose()
