"""Reading an export, for notebooks: rows as plain dictionaries, from a folder, a zip or one file. Python alone.

Numbers are numbers, masses whole milligrams, times aware datetimes in UTC, yes and no True and False, nothing None.
"""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from os import PathLike
from pathlib import Path
from typing import IO

from station.errors import StationError
from station.export.form import Kind, Value
from station.export.lines import from_csv, from_json
from station.texts import t


class NotAnExport(StationError, ValueError):
    """What was named is no export of a station, or is damaged."""


def read(place: str | PathLike[str], table: str = "casts") -> list[dict[str, Value]]:
    """All rows of a table. Raises NotAnExport with a sentence.

    `place` is a folder or zip that `tarebell export` or `tarebell archive` has written, or one .csv or .jsonl of it.
    """
    return list(each(place, table))


def each(place: str | PathLike[str], table: str = "casts") -> Iterator[dict[str, Value]]:
    """The same row by row, for a log that does not fit into memory. Raises NotAnExport."""
    from station.export.tables import TABLES

    kinds = {one.name: one.kinds() for one in TABLES}
    where = Path(place)
    if table not in kinds:
        raise NotAnExport(t("There is no table {table}.", table=repr(table)), t("Tables: {all}.", all=", ".join(kinds)))
    if where.suffix in (".csv", ".jsonl"):
        table = where.stem if where.stem in kinds else table
    return _rows(where, table, kinds[table])


def table_names(place: str | PathLike[str]) -> list[str]:
    """The tables that there are in a folder or zip. Raises NotAnExport."""
    from station.export.tables import TABLES

    where = Path(place)
    return [one.name for one in TABLES if any(_holds(where, f"{one.name}{kind}") for kind in (".jsonl", ".csv"))]


def _rows(where: Path, table: str, kinds: dict[str, Kind]) -> Iterator[dict[str, Value]]:
    line = 0
    try:
        with _opened(where, table) as (stream, name):
            if name.endswith(".csv"):
                # The reader of CSV goes by the lines' own ends, which may stand within a cell.
                text = io.TextIOWrapper(stream, "utf-8-sig", newline="")
                for line, row in enumerate(from_csv(text, kinds), 2):  # noqa: B007  # told below
                    yield row
            else:
                for line, said in enumerate(io.TextIOWrapper(stream, "utf-8"), 1):  # noqa: B007  # told below
                    yield from_json(said, kinds)
    except (ValueError, KeyError, zipfile.BadZipFile) as why:
        if isinstance(why, NotAnExport):
            raise
        words = t("{place} cannot be read near line {line} ({why}).", place=where, line=line, why=why)
        raise NotAnExport(words, t("Export it again.")) from why
    except OSError as why:
        words = t("{place} cannot be read ({why}).", place=where, why=why.strerror or why)
        raise NotAnExport(words, t("Name a folder, a zip or a file of an export.")) from why


@contextmanager
def _opened(where: Path, table: str) -> Iterator[tuple[IO[bytes], str]]:
    """The table's stream of bytes, and the name it has; JSON rather than CSV, which is the quicker one."""
    if where.suffix in (".csv", ".jsonl"):
        with where.open("rb") as stream:
            yield stream, where.name
        return
    for name in (f"{table}.jsonl", f"{table}.csv"):
        if where.is_dir() and (where / name).is_file():
            with (where / name).open("rb") as stream:
                yield stream, name
            return
        if where.is_file() and _holds(where, name):
            with zipfile.ZipFile(where) as box, box.open(name) as packed:
                yield packed, name
            return
    words = t("There is no table {table} in {place}.", table=repr(table), place=where)
    raise NotAnExport(words, t("Name a folder, a zip or a file of an export."))


def _holds(where: Path, name: str) -> bool:
    if where.is_dir():
        return (where / name).is_file()
    try:
        with zipfile.ZipFile(where) as box:
            return name in box.namelist()
    except (OSError, zipfile.BadZipFile) as why:
        words = t("{place} is no folder and no zip of an export ({why}).", place=where, why=why)
        raise NotAnExport(words, t("Name a folder, a zip or a file of an export.")) from why
