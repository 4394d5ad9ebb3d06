"""Questions about many casts as SQL: each walks along an index and stops when a page is full."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import (
    Column,
    ColumnElement,
    Connection,
    Select,
    Subquery,
    and_,
    column,
    func,
    literal_column,
    select,
    table,
)

from station.core.judging_events import DefectKind
from station.records import Asked
from station.store.schema import CASTS_TEXT, casts, defects, journal

SHORTEST = 3
"""Fewer letters than this are in no index; they are looked for in each text."""

HIGHEST = 2**31 - 1
"""Above every number that a cast may have."""

_TEXT = table(CASTS_TEXT, column("rowid"))


def lines(asked: Asked, *, before: int | None, after: int | None, limit: int, sqlite: bool) -> Select[Any]:
    """The casts asked for, with their moments: those numbered below `before`, or above `after`, nearest first.

    With `after` the oldest comes first.
    """
    number: ColumnElement[int] = casts.c.number
    some = select(casts)
    words = indexed(asked.search) if sqlite else ()
    if words:
        some = some.join(_TEXT, number == _TEXT.c.rowid).where(literal_column(CASTS_TEXT).op("MATCH")(_quoted(words)))
        number = _TEXT.c.rowid
    elif asked.defect is not None:
        some = some.join(defects, number == defects.c.cast_number).where(*_first_of_kind(asked.defect))
        number = defects.c.cast_number
        asked = replace(asked, defect=None)
    for condition in conditions(asked, besides=words):
        some = some.where(condition)
    if after is not None:
        some = some.where(number > after).order_by(number)
    else:
        some = some.order_by(number.desc())
        some = some if before is None else some.where(number < before)
    # The page first, its moments then: a page must not fetch the moments of casts that are not on it.
    page = some.limit(limit).subquery()
    moments = (journal.c.boot_id, journal.c.boot_s, journal.c.wall, journal.c.trusted)
    return select(page, *moments).join(journal, journal.c.seq == page.c.begun_seq)


def newest_of_each(key: Column[str]) -> Subquery:
    """Each `key` of the casts, and as `number` the newest cast that has it.

    It steps from key to key along the index of `key` and number, so that many casts of few keys cost no more than few.
    """
    each = select(func.min(key).label("key")).cte("each_key", recursive=True)
    beyond = select(func.min(key)).where(key > each.c.key).scalar_subquery()
    each = each.union_all(select(beyond).where(each.c.key.is_not(None)))
    newest = select(func.max(casts.c.number)).where(key == each.c.key).scalar_subquery()
    return select(each.c.key, newest.label("number")).where(each.c.key.is_not(None)).subquery()


def _first_of_kind(kind: DefectKind) -> tuple[ColumnElement[bool], ...]:
    """Casts with such a defect, walked along the index of defects; one that has it at two places comes once."""
    other = defects.alias()
    before = select(other.c.ordinal).where(
        other.c.cast_number == defects.c.cast_number, other.c.kind == kind.value, other.c.ordinal < defects.c.ordinal
    )
    return (defects.c.kind == kind.value, ~before.exists())


def numbers_between(db: Connection, since: datetime | None, until: datetime | None) -> tuple[int, int] | None:
    """The lowest and highest number of the casts begun in [since, until); None when there is none.

    Numbers rise with time, so that a span of days is a stretch of the list, found in an index without the list.
    """
    if since is None and until is None:
        return (0, HIGHEST)
    first, last = func.min(casts.c.number), func.max(casts.c.number)
    found = db.execute(select(first, last).where(*_days(since, until))).one()
    return None if found[0] is None else (found[0], found[1])


def years_of_casts(db: Connection) -> tuple[int, ...]:
    """The years at the bench in which something was cast, the newest first: one look into an index for each."""
    first, last = db.execute(select(func.min(casts.c.begun_s), func.max(casts.c.begun_s))).one()
    if first is None:
        return ()
    found = []
    for year in range(_year(last), _year(first) - 1, -1):
        since, until = (datetime(one, 1, 1).astimezone() for one in (year, year + 1))
        if db.execute(select(casts.c.number).where(*_days(since, until)).limit(1)).first() is not None:
            found.append(year)
    return tuple(found)


def _year(seconds: float) -> int:
    return datetime.fromtimestamp(seconds, UTC).astimezone().year


def conditions(asked: Asked, besides: tuple[str, ...] = ()) -> list[ColumnElement[bool]]:
    """What a cast must fulfil, but for its place in the list, and for words that are looked for otherwise."""
    wanted: list[ColumnElement[bool]] = []
    if words := [word for word in asked.search.casefold().split() if word not in besides]:
        wanted.append(and_(*(casts.c.searched.contains(word, autoescape=True) for word in words)))
    if asked.stage is not None:
        wanted.append(casts.c.stage == asked.stage.value)
    if asked.mold:
        wanted.append(casts.c.mold_key == asked.mold)
    if asked.material:
        wanted.append(casts.c.material_key == asked.material)
    if asked.verdict is not None:
        wanted.append(casts.c.verdict == asked.verdict.value)
    if asked.unjudged:
        wanted.append(casts.c.waits == 1)
    if asked.defect is not None:
        found = select(defects.c.cast_number).where(defects.c.kind == asked.defect.value)
        wanted.append(casts.c.number.in_(found))
    return [*wanted, *_days(asked.since, asked.until)]


def indexed(search: str) -> tuple[str, ...]:
    """The words of a search that the index of letters can find."""
    return tuple(word for word in search.casefold().split() if len(word) >= SHORTEST)


def _days(since: datetime | None, until: datetime | None) -> list[ColumnElement[bool]]:
    wanted: list[ColumnElement[bool]] = []
    if since is not None:
        wanted.append(casts.c.begun_s >= since.timestamp())
    if until is not None:
        wanted.append(casts.c.begun_s < until.timestamp())
    return wanted


def _quoted(words: tuple[str, ...]) -> str:
    """Words as FTS5 wants them: each a string in double quotes, so that nothing in it is an operator."""
    return " AND ".join('"' + word.replace('"', '""') + '"' for word in words)
