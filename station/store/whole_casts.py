"""Whole casts out of the record: one by its number, or one after the other in their order, some at a time."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from sqlalchemy import ColumnElement, Connection, Engine, and_, select

from station.core.clocks import ClockKind
from station.core.events import CastBegun
from station.core.plan import CastPlan
from station.insight.facts import CastFacts
from station.records import AlarmRecord, Asked, BatchRecord, Stage
from station.store import chain
from station.store.assembly import batch_record
from station.store.evidence import Walls, walls
from station.store.facts import facts_of
from station.store.faults import RecordDamaged, told_as_faults
from station.store.questions import conditions
from station.store.schema import alarms, casts, journal
from station.store.values import kind_of
from station.texts import N_, Phrase, t

ANSWERED_LATE_S: Final = 60.0
"""An alarm answered later than this counts as missed: by then it sounds stronger."""
AT_ONCE: Final = 100
"""So many casts are read in one transaction: a long one would keep the record's log from being emptied."""


@dataclass(frozen=True, slots=True)
class WholeCast:
    """All that the record holds of one cast, and the plan with which it was begun.

    `facts`, of a cast that was poured, are those told of many at a time; None where only one was asked for.
    """

    record: BatchRecord
    plan: CastPlan
    facts: CastFacts | None = None


def whole_cast(db: Connection, number: int, known: Walls) -> WholeCast | None:
    """The cast of this number; None when there is none. Raises LedgerFault; RecordDamaged where its rows are missed."""
    cast = db.execute(select(casts.c.begun_seq, casts.c.stage).where(casts.c.number == number)).first()
    if cast is None:
        return None
    rows = rows_where(db, and_(journal.c.cast_number == number, journal.c.seq >= cast.begun_seq))
    begun = chain.entry_of(rows[0]).event if rows else None
    if not isinstance(begun, CastBegun):  # an index or the table of casts is spoilt, which the check finds
        raise RecordDamaged(t("Cast {number} cannot be read: the record is damaged.", number=number))
    stations = journal.c.cast_number.is_(None)
    around = rows_where(db, and_(stations, journal.c.seq > cast.begun_seq, journal.c.seq <= rows[-1].seq))
    record = batch_record(
        begun,
        [chain.entry_of(row) for row in rows],
        around=[chain.entry_of(row) for row in around],
        alarms=_alarms(db, number, known),
        stage=kind_of(Stage, cast.stage),
        walls=known,
    )
    return WholeCast(record, begun.plan)


def whole_casts(
    engine: Engine, place: Path | str, asked: Asked, *, upto: int | None = None, at_once: int = AT_ONCE
) -> Iterator[WholeCast]:
    """The casts asked for in the order of their numbers, each as it stands when its turn comes.

    `upto`: only those begun up to this row of the journal. Raises LedgerFault.
    """
    number, wanted = 0, conditions(asked)
    if upto is not None:
        wanted.append(casts.c.begun_seq <= upto)
    while True:
        with told_as_faults(place), engine.begin() as db:
            some = select(casts.c.number).where(casts.c.number > number, *wanted).order_by(casts.c.number)
            numbers = list(db.execute(some.limit(at_once)).scalars())
            known = walls(db)
            facts = facts_of(db, numbers, known) if numbers else {}
            found = [
                replace(one, facts=facts.get(each))
                for each in numbers
                if (one := whole_cast(db, each, known)) is not None
            ]
        if not numbers:
            return
        yield from found
        number = numbers[-1]


def rows_where(db: Connection, condition: ColumnElement[bool]) -> list[chain.Row]:
    """The journal's rows that fulfil a condition, in order."""
    return [chain.Row(*row) for row in db.execute(select(journal).where(condition).order_by(journal.c.seq))]


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


def _alarms(db: Connection, number: int, known: Walls) -> list[AlarmRecord]:
    found = db.execute(select(alarms).where(alarms.c.cast_number == number).order_by(alarms.c.raised_seq)).all()
    seqs = {row.raised_seq for row in found} | {row.silenced_seq for row in found if row.silenced_seq is not None}
    columns = select(journal.c.seq, journal.c.boot_s, journal.c.boot_id, journal.c.wall, journal.c.trusted)
    at = {seq: known.shown(chain.moment_of(*rest)) for seq, *rest in db.execute(columns.where(journal.c.seq.in_(seqs)))}
    return [
        AlarmRecord(
            clock=kind_of(ClockKind, row.clock),
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
