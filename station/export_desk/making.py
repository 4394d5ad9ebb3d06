"""Making an export: a folder of tables with the log itself, or one file of it. Casts are read some at a time."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from station.errors import LedgerFault, Refused
from station.export.about import about
from station.export.form import FORMAT, Told
from station.export.lines import CsvLines, json_line
from station.export.tables import TABLES
from station.export.writing import table_files
from station.keeping import sync
from station.records import Asked
from station.store import journal
from station.store.archive import Archive
from station.store.backup.photos import hand_on
from station.store.engines import open_reader
from station.store.faults import told_as_faults
from station.store.log_lines import log_lines
from station.store.verify import ChainBroken
from station.texts import t

LOG: Final = "log.jsonl"
ABOUT: Final = "EXPORT.md"
CONTENTS: Final = "contents.json"
EVERYTHING: Final = Asked()
_EVERY: Final = 100
"""Casts after which it is told how far it has come."""

Progress = Callable[[int], object]
"""Is told how many casts are done."""


@dataclass(frozen=True, slots=True)
class Source:
    """What is exported: the record at `place`, by this version of the station, the casts asked for.

    With `photos` those of a whole export go along.
    """

    place: Path
    version: str
    asked: Asked = EVERYTHING
    photos: bool = True

    @property
    def whole(self) -> bool:
        """Whether all of it is asked for: only then the log itself goes along."""
        return self.asked == EVERYTHING


def nothing(_casts: int) -> None:
    """Nobody wants to know how far it has come."""


def export_folder(
    source: Source,
    folder: Path,
    progress: Progress = nothing,
    also: Callable[[Told], object] | None = None,
    *,
    boxed: bool = False,
) -> int:
    """Put all tables, of a whole export also log and photos, into an empty folder; how many casts. `also` is told each.

    `boxed`: only a zip will be made of the folder, so photos may be in it under a second name, without a copy.

    Raises Refused for a folder that holds something, LedgerFault when the record cannot be read or the disk is full.
    """
    with told_as_faults(folder):
        if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
            raise Refused(t("{folder} is not an empty folder.", folder=folder), t("Name a new one."))
        folder.mkdir(parents=True, exist_ok=True)
        upto = end_of(source.place)
        casts = 0
        with Archive(source.place) as archive, table_files(folder) as files:
            for whole in archive.each(source.asked, upto=upto):
                told_of = Told(whole.record, whole.plan, whole.facts)
                files.put(told_of)
                if also is not None:
                    also(told_of)
                casts += 1
                if casts % _EVERY == 0:
                    progress(casts)
        photos = 0
        if source.whole:
            write_log(source, folder / LOG, upto)
            photos = hand_on(source.place, folder, apart=not boxed) if source.photos else 0
        (folder / ABOUT).write_text(about(), encoding="utf-8")
        told = {"format": FORMAT, "version": source.version, "casts": casts, "photos": photos, "journal_row": upto}
        (folder / CONTENTS).write_text(json.dumps(told, indent=1) + "\n", encoding="utf-8")
        for file in folder.iterdir():
            sync(file)
        sync(folder)
    progress(casts)
    return casts


def write_table(source: Source, name: str, file: Path, progress: Progress = nothing) -> int:
    """Put one table into a file, CSV or JSON Lines by its ending; how many casts. Raises LedgerFault."""
    table = next(one for one in TABLES if one.name == name)
    as_csv, casts = file.suffix == ".csv", 0
    encoding, newline = ("utf-8-sig", "") if as_csv else ("utf-8", "\n")
    with (
        _beside(file) as new,
        Archive(source.place) as archive,
        new.open("w", encoding=encoding, newline=newline) as out,
    ):
        sheet = CsvLines(out, table.kinds()) if as_csv else None
        for whole in archive.each(source.asked, upto=end_of(source.place)):
            for row in table.rows(Told(whole.record, whole.plan, whole.facts)):
                if sheet is None:
                    out.write(json_line(row))
                else:
                    sheet.put(row)
            casts += 1
            if casts % _EVERY == 0:
                progress(casts)
    return casts


def write_log(source: Source, file: Path, upto: int | None = None) -> int:
    """Put the log itself into a file; how many rows of the journal. Raises LedgerFault when the record is damaged."""
    last = end_of(source.place) if upto is None else upto
    try:
        with _beside(file) as new, new.open("w", encoding="ascii", newline="\n") as out:
            out.writelines(log_lines(source.place, last, source.version))
    except ChainBroken as broken:
        words = t("The record is damaged. {why}", why=broken)
        raise LedgerFault(words, t("Restore it first; a damaged log is not handed on.")) from broken
    return last


def end_of(place: Path) -> int:
    """The number of the journal's last row. Raises LedgerFault."""
    engine = open_reader(place)
    try:
        with told_as_faults(place), engine.begin() as db:
            last = journal.tail(db)
    finally:
        engine.dispose()
    return last[0].seq if last else 0


@contextmanager
def _beside(file: Path) -> Iterator[Path]:
    """A file that takes its name only when all of it is on the disk. Raises LedgerFault."""
    new = file.with_name(f".{file.name}.new")
    with told_as_faults(file):
        try:
            file.parent.mkdir(parents=True, exist_ok=True)
            yield new
            sync(new)
            new.replace(file)
            sync(file.parent)
        finally:
            new.unlink(missing_ok=True)
