"""Rows as lines of CSV (RFC 4180) and of JSON (RFC 8259, one a line), and back again.

A cell of free text that a spreadsheet would take for a formula gets an apostrophe before it: OWASP's advice against
formula injection, for the marks = + - @, tabulator and line ends. So does one that begins with an apostrophe: then
whoever takes one off has the text as it was.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Iterable, Iterator, Mapping
from datetime import UTC, datetime
from typing import Any, Final, TextIO

from station.export.form import Kind, Value

FORMULA: Final = ("=", "+", "-", "@", "\t", "\r", "\n", "'")
"""With one of these at its beginning a text is marked."""
MARK: Final = "'"
NEWLINE: Final = "\r\n"
NEVER_STORED: Final = "\0"


def plain(value: Value) -> str | int | float | bool | None:
    """A value as JSON has it: a time as ISO 8601 in UTC."""
    return time_text(value) if isinstance(value, datetime) else value


def time_text(at: datetime) -> str:
    """ISO 8601 in UTC, to the millisecond."""
    return at.astimezone(UTC).isoformat(timespec="milliseconds")


def json_line(row: Mapping[str, Value]) -> str:
    """One row as a line of JSON."""
    return json.dumps({name: plain(value) for name, value in row.items()}, ensure_ascii=False, allow_nan=False) + "\n"


def cell(value: Value, kind: Kind) -> str:
    """A value as a cell: empty for none, "yes" and "no", a point as decimal mark, text that is no formula."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime):
        return time_text(value)
    if isinstance(value, str):
        text = value.replace(NEVER_STORED, "")
        return MARK + text if kind is Kind.TEXT and text.startswith(FORMULA) else text
    return repr(value)


class CsvLines:
    """Writes rows of one table into a text stream that was opened with `newline=""`."""

    def __init__(self, stream: TextIO, kinds: Mapping[str, Kind]) -> None:
        self._writer, self._kinds = csv.writer(stream, lineterminator=NEWLINE), kinds
        self._writer.writerow(kinds)

    def put(self, row: Mapping[str, Value]) -> None:
        """Write one row."""
        self._writer.writerow(cell(row[name], kind) for name, kind in self._kinds.items())


def from_csv(stream: Iterable[str], kinds: Mapping[str, Kind]) -> Iterator[dict[str, Value]]:
    """The rows of a CSV stream, each value of its kind. A column that is not known stays text. Raises ValueError."""
    for row in csv.DictReader(stream, strict=True):
        if None in row or None in row.values():
            raise ValueError("a line has more or fewer cells than the head")
        yield {name: _from_cell(text, kinds.get(name, Kind.TEXT)) for name, text in row.items()}


def from_json(line: str, kinds: Mapping[str, Kind]) -> dict[str, Value]:
    """The row of one line of JSON, times as times. Raises ValueError."""
    row: Any = json.loads(line)
    if not isinstance(row, dict):
        raise ValueError("it is no object")
    return {name: _timed(value, kinds.get(name)) for name, value in row.items()}


def _timed(value: Any, kind: Kind | None) -> Any:
    return datetime.fromisoformat(value) if kind is Kind.TIME and isinstance(value, str) else value


def _from_cell(text: str, kind: Kind) -> Value:
    if kind is Kind.TEXT:
        return text.removeprefix(MARK)
    if not text:
        return None
    match kind:
        case Kind.WORD:
            return text
        case Kind.WHOLE | Kind.MASS:
            return int(text)
        case Kind.NUMBER:
            return float(text)
        case Kind.FLAG:
            return {"yes": True, "no": False}[text]
        case Kind.TIME:
            return datetime.fromisoformat(text)
