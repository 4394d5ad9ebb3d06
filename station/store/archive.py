"""Archive: questions to the record, answered with frozen records. It can only read, from any thread."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Any, Final, Self

from sqlalchemy import Column, ColumnElement, Connection, and_, func, or_, select
from sqlalchemy import Row as Found

from station.core.clocks import ClockKind
from station.core.events import CastBegun, Entry
from station.core.mass import Mass
from station.core.plan import CastPlan
from station.core.trace import Points
from station.insight.facts import CastFacts
from station.records import AlarmRecord, Asked, BatchRecord, CastLine, CastPage, Known, PhotoRecord, Stage
from station.store import chain
from station.store.assembly import batch_record
from station.store.engines import open_reader
from station.store.evidence import Walls, walls
from station.store.facts import facts
from station.store.faults import told_as_faults
from station.store.mold_past import MoldPast, mold_pasts
from station.store.photos import PHOTO_KINDS, photos_of
from station.store.questions import conditions, lines, numbers_between
from station.store.schema import alarms, casts, journal
from station.store.traces import whole_trace
from station.texts import N_, Phrase

ANSWERED_LATE_S: Final = 60.0
"""An alarm answered later than this counts as missed: by then it sounds stronger."""


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
        latest = select(key, func.max(casts.c.number).label("number")).group_by(key).subquery()
        titles = select(key, title).join(latest, casts.c.number == latest.c.number)
        with told_as_faults(self.place), self._engine.begin() as db:
            return tuple(sorted((Known(*row) for row in db.execute(titles)), key=lambda one: one.title.casefold()))

    def count(self, search: str = "", stage: Stage | None = None) -> int:
        """How many casts there are, of this stage and matching `search`."""
        with told_as_faults(self.place), self._engine.begin() as db:
            wanted = conditions(Asked(search, stage))
            return db.execute(select(func.count()).select_from(casts).where(*wanted)).scalar_one()

    def mold_pasts(self) -> Mapping[str, MoldPast]:
        """What became of the casts in each mold, by the mold's key."""
        with told_as_faults(self.place), self._engine.begin() as db:
            return mold_pasts(db)

    def record(self, number: int) -> BatchRecord | None:
        """The whole batch record of a cast; None when there is no such cast."""
        with told_as_faults(self.place), self._engine.begin() as db:
            cast = db.execute(select(casts.c.begun_seq, casts.c.stage).where(casts.c.number == number)).first()
            if cast is None:
                return None
            own = journal.c.cast_number == number
            rows = _rows(db, and_(own, journal.c.seq >= cast.begun_seq))
            last = rows[-1].seq
            stations = journal.c.cast_number.is_(None)
            between = and_(stations, journal.c.seq > cast.begun_seq, journal.c.seq <= last)
            around = [chain.entry_of(row) for row in _rows(db, between)]
            known = walls(db)
            told = _alarms(db, number, known)
        entries: list[Entry] = [chain.entry_of(row) for row in rows]
        begun = entries[0].event
        assert isinstance(begun, CastBegun), "casts.begun_seq points at another kind of row"
        return batch_record(begun, entries, around=around, alarms=told, stage=Stage(cast.stage), walls=known)

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
            return photos_of([chain.entry_of(row) for row in _rows(db, own)], walls(db))

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


def missed_because(late_s: float | None, due_while_off: bool, answered: bool, after_s: float | None) -> str:
    """Why an alarm counts as missed; empty when somebody answered it in time."""
    if late_s is None:
        return Phrase(N_("may have fallen due while the station was off, nobody knows for how long"))
    if due_while_off:
        return Phrase(N_("fell due while the station was off, {late} s before it sounded"), late=f"{late_s:.0f}")
    if not answered:
        return Phrase(N_("nobody has answered it"))
    if after_s is None:
        return Phrase(N_("answered after a time that is not known"))
    return Phrase(N_("answered after {after} s"), after=f"{after_s:.0f}") if after_s > ANSWERED_LATE_S else ""


def _missed() -> ColumnElement[bool]:
    """The same rule as `missed_because`, for counting in the database."""
    late = or_(alarms.c.after_s.is_(None), alarms.c.after_s > ANSWERED_LATE_S)
    off = or_(alarms.c.late_s.is_(None), alarms.c.due_while_off != 0)
    return or_(off, alarms.c.silenced_seq.is_(None), late)


def _rows(db: Connection, condition: ColumnElement[bool]) -> list[chain.Row]:
    return [chain.Row(*row) for row in db.execute(select(journal).where(condition).order_by(journal.c.seq))]


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
        stage=Stage(row.stage),
        alarms=alarms_,
        missed=missed,
    )


def _alarms(db: Connection, number: int, known: Walls) -> list[AlarmRecord]:
    found = db.execute(select(alarms).where(alarms.c.cast_number == number).order_by(alarms.c.raised_seq)).all()
    seqs = {row.raised_seq for row in found} | {row.silenced_seq for row in found if row.silenced_seq is not None}
    columns = select(journal.c.seq, journal.c.boot_s, journal.c.boot_id, journal.c.wall, journal.c.trusted)
    at = {seq: known.shown(chain.moment_of(*rest)) for seq, *rest in db.execute(columns.where(journal.c.seq.in_(seqs)))}
    return [
        AlarmRecord(
            clock=ClockKind(row.clock),
            raised=at[row.raised_seq],
            late_s=row.late_s,
            why=row.why,
            silenced=at.get(row.silenced_seq),
            by=row.acknowledged_by or "",
            after_s=row.after_s,
            missed=missed_because(row.late_s, bool(row.due_while_off), row.silenced_seq is not None, row.after_s),
        )
        for row in found
    ]
