"""Reading the lines of a log's file: each becomes what it says, or a sentence tells what is wrong with it."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, fields
from typing import Any, Final, NoReturn

from station.core.trace import Points
from station.errors import Refused
from station.store.chain import Row
from station.store.log_lines import BOOT, END, ENTRY, FORMAT, HEAD, TRACE
from station.store.schema import evidence
from station.texts import N_, t

LONGEST: Final = 16 * 1024 * 1024
"""Bytes that one line may have at most; the longest traces take a hundredth of that."""
_ROW: Final[dict[str, tuple[type, ...]]] = {
    "seq": (int,),
    "kind": (str,),
    "cast_number": (int, type(None)),
    "boot_id": (str,),
    "boot_s": (float, int),
    "wall": (str,),
    "trusted": (int,),
    "payload": (str,),
    "previous": (str,),
    "digest": (str,),
}
_BOOT_ENDS: Final = ("journal_seq", "journal_digest")


class BadLog(Refused):
    """The file is no log of a station, or not as it was written."""

    hint = N_("Nothing was changed. Export the log again at the other station, and copy the file anew.")


@dataclass(frozen=True, slots=True)
class Boot:
    """One boot of the other station, by the columns of its evidence."""

    columns: dict[str, Any]


@dataclass(frozen=True, slots=True)
class Trace:
    """The trace of one weighing."""

    number: int
    step: int
    points: Points


@dataclass(frozen=True, slots=True)
class End:
    """What the file says it holds."""

    entries: int
    traces: int
    digest: str


Line = Row | Boot | Trace | End


def read_lines(lines: Iterable[bytes]) -> Iterator[Line]:
    """What stands in the lines of a file, its head left out and its end last. Raises BadLog."""
    place, ended = 0, False
    for place, raw in enumerate(lines, 1):
        if ended:
            raise BadLog(t("Line {line} comes after the last one.", line=place))
        content = _content(raw, place)
        if place == 1:
            _check_head(content)
            continue
        line = _read(content, place)
        ended = isinstance(line, End)
        yield line
    if not place:
        raise BadLog(t("The file is empty."))
    if not ended:
        raise BadLog(t("The file was cut off after line {line}: its last line is missing.", line=place))


def _content(raw: bytes, place: int) -> dict[str, Any]:
    if len(raw) > LONGEST:
        raise BadLog(t("Line {line} is far too long for a log.", line=place))
    try:
        content = json.loads(raw.decode("utf-8"), parse_constant=_no_number)
    except (ValueError, RecursionError):
        content = None
    if not isinstance(content, dict) or not isinstance(content.get("is"), str):
        if place == 1:
            raise BadLog(t("This is no log of a station: its first line cannot be read."))
        raise BadLog(t("Line {line} cannot be read.", line=place))
    return content


def _no_number(_said: str) -> NoReturn:
    raise ValueError


def _check_head(head: dict[str, Any]) -> None:
    if head["is"] != HEAD or not isinstance(head.get("format"), int):
        raise BadLog(t("This is no log of a station: its first line cannot be read."))
    if head["format"] > FORMAT:
        words = t("The file was written by a newer version of the station ({version}).", version=head.get("version"))
        raise BadLog(words, t("Nothing was changed. Install that version first."))


def _read(content: dict[str, Any], place: int) -> Line:
    match content:
        case {"is": kind, **columns} if kind == ENTRY and _fits(columns):
            return Row(**{**columns, "boot_s": float(columns["boot_s"])})
        case {"is": kind, **columns} if kind == BOOT and _is_boot(columns):
            return Boot(columns)
        case {"is": kind, "cast_number": int(number), "step": int(step), "points": list(points)} if kind == TRACE:
            return Trace(number, step, _points(points, place))
        case {"is": kind, "entries": int(entries), "traces": int(traces), "digest": str(digest)} if kind == END:
            return End(entries, traces, digest)
    raise BadLog(t("Line {line} is not one that a log has.", line=place))


def _fits(columns: dict[str, Any]) -> bool:
    known = {one.name for one in fields(Row)}
    return columns.keys() == known and all(
        isinstance(columns[name], kinds) and not isinstance(columns[name], bool) for name, kinds in _ROW.items()
    )


def _is_boot(columns: dict[str, Any]) -> bool:
    known = {column.name for column in evidence.columns} - set(_BOOT_ENDS)
    simple = all(isinstance(value, str | int | float | None) for value in columns.values())
    return columns.keys() == known and simple and isinstance(columns["boot_id"], str)


def _points(points: list[Any], place: int) -> Points:
    try:
        return tuple((int(ms) / 1000, int(mg)) for ms, mg in points)
    except (ValueError, TypeError, OverflowError):
        raise BadLog(t("Line {line} is not one that a log has.", line=place)) from None
