"""Archive: questions to the record, answered with frozen records. It can only read, from any thread."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from sqlalchemy import Column, ColumnElement, Connection, and_, func, or_, select
from sqlalchemy import Row as Found

from station.core.events import CastBegun
from station.core.judging_events import Verdict
from station.core.mass import Mass
from station.core.plan import CastPlan
from station.core.trace import Points
from station.insight.facts import CastFacts
from station.lot_records import LotRecord
from station.records import Asked, BatchRecord, CastLine, CastPage, Known, PhotoRecord, Stage
from station.store import chain
from station.store.engines import open_reader
from station.store.evidence import Walls, walls
from station.store.facts import facts
from station.store.faults import told_as_faults
from station.store.lots import MOST, lot_record
from station.store.mold_past import MoldPast, mold_pasts
from station.store.photos import PHOTO_KINDS, photos_of
from station.store.questions import conditions, lines, newest_of_each, numbers_between, years_of_casts
from station.store.schema import alarms, casts, journal
from station.store.traces import whole_trace
from station.store.values import kind_of
from station.store.whole_casts import ANSWERED_LATE_S, WholeCast, rows_where, whole_cast, whole_casts


class Archive:
    """Readers' view of the record at a path or URL. Every question raises LedgerFault when it cannot be read."""

    def __init__(self, place: Path | str) -> None:
        self.place = place
        self._engine = open_reader(place)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, _kind: type[BaseException] | None, _bug: BaseException | None, _at: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the record."""
        self._engine.dispose()

    def casts(self, limit: int = 50, search: str = "") -> tuple[CastLine, ...]:
        """The newest casts. `search` is part of a material, mold, lot, note or name, or a cast's number."""
        return self.page(Asked(search), limit=limit).lines

    def page(self, asked: Asked, *, before: int | None = None, after: int | None = None, limit: int = 30) -> CastPage:
        """Of the casts asked for those numbered below `before`, or above `after`: the nearest `limit` of them."""
        with told_as_faults(self.place), self._engine.begin() as db:
            within = numbers_between(db, asked.since, asked.until)
            if within is None:
                return CastPage((), newer=False, older=False)
            rows = self._rows_of(db, asked, within, before=before, after=after, limit=limit + 1)
            more = len(rows) > limit
            rows = rows[:limit] if after is None else rows[-limit:]
            known, counts = walls(db), _alarm_counts(db, [row.number for row in rows])
            found = tuple(_line(row, known, counts.get(row.number, (0, 0))) for row in rows)
            if not found:
                return CastPage((), newer=False, older=False)
            newer, older = more, more
            if after is None:
                newer = before is not None and bool(self._rows_of(db, asked, within, after=found[0].number, limit=1))
            else:
                older = bool(self._rows_of(db, asked, within, before=found[-1].number, limit=1))
        return CastPage(found, newer, older)

    def _rows_of(
        self,
        db: Connection,
        asked: Asked,
        within: tuple[int, int],
        *,
        before: int | None = None,
        after: int | None = None,
        limit: int,
    ) -> list[Found[Any]]:
        """Rows, newest first, of casts whose numbers lie between those of `within`, both included."""
        first, last = within
        if after is None:
            before = last + 1 if before is None else min(before, last + 1)
        else:
            after = max(after, first - 1)
        sqlite = db.dialect.name == "sqlite"
        rows = db.execute(lines(asked, before=before, after=after, limit=limit, sqlite=sqlite))
        return sorted(rows, key=lambda row: int(row.number), reverse=True)

    def number(self, wanted: int) -> bool:
        """Whether there is a cast of this number."""
        with told_as_faults(self.place), self._engine.begin() as db:
            return db.execute(select(casts.c.number).where(casts.c.number == wanted)).first() is not None

    def molds(self) -> tuple[Known, ...]:
        """Every mold that was ever cast in, by its latest title, in the order of titles."""
        return self._known(casts.c.mold_key, casts.c.mold)

    def materials(self) -> tuple[Known, ...]:
        """Every material that was ever cast, by its latest title, in the order of titles."""
        return self._known(casts.c.material_key, casts.c.material)

    def _known(self, key: Column[str], title: Column[str]) -> tuple[Known, ...]:
        titles = select(key, title).where(casts.c.number.in_(select(newest_of_each(key).c.number)))
        with told_as_faults(self.place), self._engine.begin() as db:
            return tuple(sorted((Known(*row) for row in db.execute(titles)), key=lambda one: one.title.casefold()))

    def count(self, search: str = "", stage: Stage | None = None) -> int:
        """How many casts there are, of this stage and matching `search`."""
        with told_as_faults(self.place), self._engine.begin() as db:
            wanted = conditions(Asked(search, stage))
            return db.execute(select(func.count()).select_from(casts).where(*wanted)).scalar_one()

    def years(self) -> tuple[int, ...]:
        """The years at the bench in which something was cast, the newest first."""
        with told_as_faults(self.place), self._engine.begin() as db:
            return years_of_casts(db)

    def mold_pasts(self) -> Mapping[str, MoldPast]:
        """What became of the casts in each mold, by the mold's key."""
        with told_as_faults(self.place), self._engine.begin() as db:
            return mold_pasts(db)

    def lot(self, lot: str, *, before: int | None = None, limit: int = MOST) -> LotRecord:
        """Which casts contain a lot, and its counts; of its casts the newest `limit` numbered below `before`."""
        with told_as_faults(self.place), self._engine.begin() as db:
            return lot_record(db, lot, before, limit)

    def record(self, number: int) -> BatchRecord | None:
        """The whole batch record of a cast; None when there is no such cast."""
        found = self.whole(number)
        return None if found is None else found.record

    def whole(self, number: int) -> WholeCast | None:
        """The same with the plan with which it was begun."""
        with told_as_faults(self.place), self._engine.begin() as db:
            return whole_cast(db, number, walls(db))

    def each(self, asked: Asked, *, upto: int | None = None) -> Iterator[WholeCast]:
        """The casts asked for with all that is known of them, in the order of their numbers, some in memory at a time.

        `upto`: only those begun up to this row of the journal.
        """
        return whole_casts(self._engine, self.place, asked, upto=upto)

    def plan(self, number: int) -> CastPlan | None:
        """The plan with which a cast was begun; None when there is no such cast."""
        begun = select(journal).join(casts, casts.c.begun_seq == journal.c.seq).where(casts.c.number == number)
        with told_as_faults(self.place), self._engine.begin() as db:
            row = db.execute(begun).first()
        event = None if row is None else chain.entry_of(chain.Row(*row)).event
        return event.plan if isinstance(event, CastBegun) else None

    def photos(self, number: int) -> tuple[PhotoRecord, ...]:
        """The photos of a cast, removed ones too, in the order in which they came."""
        own = and_(journal.c.cast_number == number, journal.c.kind.in_(PHOTO_KINDS))
        with told_as_faults(self.place), self._engine.begin() as db:
            return photos_of([chain.entry_of(row) for row in rows_where(db, own)], walls(db))

    def facts(
        self,
        *,
        mold: str = "",
        material: str = "",
        last: int = 60,
        since: datetime | None = None,
        until: datetime | None = None,
    ) -> tuple[CastFacts, ...]:
        """Of the casts that were poured, by keys and days (UTC, `until` not included): the newest, the oldest first."""
        with told_as_faults(self.place), self._engine.begin() as db:
            return facts(db, mold=mold, material=material, last=last, since=since, until=until)

    def trace(self, number: int, step: int) -> Points | None:
        """The weighing trace of a step, (seconds, gross in mg); None when none was kept."""
        with told_as_faults(self.place), self._engine.begin() as db:
            return whole_trace(db, (number, step))


def _missed() -> ColumnElement[bool]:
    """The same rule as `missed_because`, for counting in the database."""
    late = or_(alarms.c.after_s.is_(None), alarms.c.after_s > ANSWERED_LATE_S)
    off = or_(alarms.c.late_s.is_(None), alarms.c.due_while_off != 0)
    return or_(off, alarms.c.silenced_seq.is_(None), late)


def _alarm_counts(db: Connection, numbers: list[int]) -> dict[int, tuple[int, int]]:
    missed = func.count().filter(_missed())
    counts = select(alarms.c.cast_number, func.count(), missed).where(alarms.c.cast_number.in_(numbers))
    return {number: (all_, late) for number, all_, late in db.execute(counts.group_by(alarms.c.cast_number))}


def _line(row: Found[tuple[object, ...]], known: Walls, counts: tuple[int, int]) -> CastLine:
    begun = known.shown(chain.moment_of(row.boot_s, row.boot_id, row.wall, row.trusted))
    alarms_, missed = counts
    return CastLine(
        number=row.number,
        begun=begun,
        material=row.material,
        mold=row.mold,
        total=Mass(row.total_mg),
        way=row.way,
        stage=kind_of(Stage, row.stage),
        alarms=alarms_,
        missed=missed,
        verdict=None if row.verdict is None else kind_of(Verdict, row.verdict),
        unjudged=bool(row.waits),
    )
