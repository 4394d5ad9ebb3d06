"""Writing the tables of an export into a folder, row by row: nothing but the row at hand is kept in memory."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import Any, TextIO

from station.export.form import Table, Told
from station.export.lines import CsvLines, json_line
from station.export.tables import TABLES


class TableFiles:
    """Each table as CSV and as JSON Lines."""

    def __init__(self, folder: Path, stack: ExitStack) -> None:
        self._outs = [(table, *_pair(folder, table, stack)) for table in TABLES]

    def put(self, told: Told) -> None:
        """Write what there is of one cast."""
        for table, in_csv, in_json in self._outs:
            for row in table.rows(told):
                in_csv.put(row)
                in_json.write(json_line(row))


@contextmanager
def table_files(folder: Path) -> Iterator[TableFiles]:
    """The files of all tables in a folder that is there, closed at the end. Raises OSError."""
    with ExitStack() as stack:
        yield TableFiles(folder, stack)


def names() -> tuple[str, ...]:
    """The names of these files."""
    return tuple(f"{table.name}.{kind}" for table in TABLES for kind in ("csv", "jsonl"))


def _pair(folder: Path, table: Table[Any], stack: ExitStack) -> tuple[CsvLines, TextIO]:
    # With a mark of the encoding at its beginning, without which spreadsheets misread umlauts.
    sheet = stack.enter_context((folder / f"{table.name}.csv").open("w", encoding="utf-8-sig", newline=""))
    lines = stack.enter_context((folder / f"{table.name}.jsonl").open("w", encoding="utf-8", newline="\n"))
    return CsvLines(sheet, table.kinds()), lines
