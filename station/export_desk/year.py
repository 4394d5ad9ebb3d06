"""The archive of a year: its casts as records on paper and as tables, in one zip that was read back."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import IO, Final

from station.errors import Refused
from station.export.form import Told
from station.export_desk.boxing import pack
from station.export_desk.cast_paper import Shop, write_casts
from station.export_desk.making import Progress, Source, export_folder, nothing
from station.records import Asked
from station.store.archive import Archive
from station.store.faults import told_as_faults
from station.texts import t

AT_ONCE: Final = 25
"""Casts in one file of records: a file is in memory while it is made."""
FIRST, LAST = 1971, 2199


def of_year(year: int) -> Asked:
    """The casts begun in a year at the bench. Raises Refused for a year that no record can have."""
    if not FIRST <= year <= LAST:
        raise Refused(t("{year} is no year of a record.", year=year), t("Name one such as 2026."))
    first, after = (datetime(one, 1, 1).astimezone().astimezone(UTC) for one in (year, year + 1))
    return Asked(since=first, until=after)


@dataclass(frozen=True, slots=True)
class YearOf:
    """Of which record which year, by which version of the station, and what stands on its papers."""

    place: Path
    version: str
    year: int
    shop: Shop


def archive_into(of: YearOf, out: IO[bytes], room: Path, progress: Progress = nothing) -> int:
    """Write the archive into an open file; how many casts. Its parts lie in `room` meanwhile.

    Raises Refused where nothing was cast in that year, LedgerFault.
    """
    with told_as_faults(room), tempfile.TemporaryDirectory(prefix=".archive-", dir=room) as made:
        folder = Path(made) / "archive"
        with Archive(of.place) as archive:
            records = _Records(Path(made) / "records", archive, of.shop)
            casts = export_folder(Source(of.place, of.version, of_year(of.year)), folder, progress, records.add)
            if not casts:
                raise Refused(t("Nothing was cast in {year}.", year=of.year), t("Choose another year."))
            records.write()
        records.folder.rename(folder / "records")
        pack(folder, out)
    return casts


class _Records:
    """Files of records, some casts in each."""

    def __init__(self, folder: Path, archive: Archive, shop: Shop) -> None:
        self.folder, self._archive, self._shop = folder, archive, shop
        self._casts: list[Told] = []
        folder.mkdir()

    def add(self, told: Told) -> None:
        self._casts.append(told)
        if len(self._casts) == AT_ONCE:
            self.write()

    def write(self) -> None:
        """Write what is there."""
        if not self._casts:
            return
        first, last = self._casts[0].record.number, self._casts[-1].record.number
        with (self.folder / f"casts-{first:06}-{last:06}.pdf").open("wb") as out:
            write_casts(self._casts, self._archive, self._shop, out)
        self._casts = []
