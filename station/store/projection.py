"""Derived tables: what lists and charts show, projected from the journal event by event, and rebuilt from it.

The same function serves a live write and a rebuild, and looks only at journal rows up to the one it projects,
so both give the same tables.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sqlalchemy import Connection, Engine, delete, insert, select, update

from station.core import events as ev
from station.core.clocks import ClockKind
from station.core.moment import gap_s
from station.core.steps import Mix, Pour, Step
from station.core.time_events import TimeHeard, TimeTold
from station.records import Stage
from station.store import judging, pours
from station.store.chain import Row, entry_of
from station.store.journal import CHUNK, rows_after
from station.store.lots import project_count, project_lots
from station.store.schema import DERIVED, alarms, casts, journal, weighings
from station.store.storable import storable

ALL_CLOCKS: Final = frozenset(ClockKind)
AFTER_MIX: Final = frozenset({ClockKind.MIX, ClockKind.POUR_BY})
AFTER_POUR: Final = frozenset(ClockKind) - {ClockKind.MIX}
"""Pouring ends pot life and pour-by, and starts the cure clocks afresh."""


def rebuild(engine: Engine) -> int:
    """Empty the derived tables and fill them again from the journal, in one transaction; the rows read."""
    with engine.begin() as db:
        for table in DERIVED:
            db.execute(delete(table))
        seq = 0
        while rows := rows_after(db, seq, CHUNK):
            for row in rows:
                project(db, row)
            seq = rows[-1].seq
    return seq


def project(db: Connection, row: Row) -> None:
    """Bring the derived tables up to this journal row. Raises LedgerFault when the row cannot be read."""
    event = entry_of(row).event
    match event:
        case ev.CastBegun():
            _begin(db, row, event)
            project_lots(db, event)
        case ev.LotCounted():
            project_count(db, row.seq, event)
        case ev.Noted(number=number, text=text):
            words = storable(f" {text}").casefold()
            db.execute(update(casts).where(casts.c.number == number).values(searched=casts.c.searched + words))
        case TimeHeard(offset_s=offset_s) | TimeTold(offset_s=offset_s):
            _dated(db, row, offset_s)
        case ev.Accepted():
            _weighed(db, row.seq, event)
        case ev.Reopened():
            _reopen(db, row.seq, event)
        case ev.AlarmRaised():
            _raise(db, row, event)
        case ev.AlarmAcknowledged(number=number, clock=clock, by=by, after_s=after_s):
            _silence(db, row, number, frozenset({clock}), Word(by, after_s))
        case ev.AlarmWithdrawn(number=number, clock=clock):
            _withdraw(db, number, clock)
        case ev.StepDone(number=number, step=step):
            _step_done(db, row, number, _step(db, row.seq, number, step))
        case ev.ReleaseApplied(mold=mold):
            pours.released(db, mold)
        case ev.EmptiedCupWeighed(number=number) | ev.MixCupWeighed(number=number):
            pours.told_later(db, row.seq, number)
        case ev.Demolded(number=number):
            _stage(db, row.seq, number, Stage.DEMOLDED)
            pours.told_later(db, row.seq, number)
            judging.wait(db, number)
            _silence(db, row, number, frozenset({ClockKind.DEMOLD}))
        case ev.BatchLost(number=number):
            _stage(db, row.seq, number, Stage.LOST)
            judging.wait_no_more(db, number)
            _silence(db, row, number, ALL_CLOCKS)
        case ev.Aborted(number=number):
            _stage(db, row.seq, number, Stage.GIVEN_UP)
            judging.wait_no_more(db, number)
            _silence(db, row, number, ALL_CLOCKS)
        case _ if isinstance(event, ev.JudgingEvent):
            judging.project(db, row.seq, event)
        case _:
            pass  # these tables show nothing of the other events


def _begin(db: Connection, row: Row, event: ev.CastBegun) -> None:
    plan, at = event.plan, entry_of(row).at
    words = [str(event.number), plan.material.title, plan.material.key, plan.mold.title, plan.mold.key, event.by]
    words += [lot.number for lot in plan.lots]
    pours.begun(db, event.number)
    db.execute(delete(casts).where(casts.c.number == event.number))
    db.execute(
        insert(casts).values(
            number=event.number,
            begun_seq=row.seq,
            begun_by=storable(event.by),
            material_key=storable(plan.material.key),
            material=storable(plan.material.title),
            mold_key=storable(plan.mold.key),
            mold=storable(plan.mold.title),
            way=plan.way.value,
            total_mg=plan.total.mg,
            stage=Stage.AT_BENCH.value,
            stage_seq=row.seq,
            searched=storable(" ".join(words)).casefold(),
            begun_s=at.wall.timestamp(),
            begun_sure=int(at.trusted),
        )
    )


def _dated(db: Connection, row: Row, offset_s: float) -> None:
    """Casts that were begun in this boot before it knew the time are found under the day that it now knows."""
    begun = select(casts.c.number, journal.c.boot_s).join(journal, journal.c.seq == casts.c.begun_seq)
    unsure = (casts.c.begun_sure == 0, journal.c.boot_id == row.boot_id, journal.c.seq < row.seq)
    for number, boot_s in db.execute(begun.where(*unsure)).all():
        db.execute(update(casts).where(casts.c.number == number).values(begun_s=offset_s + boot_s))


def _weighed(db: Connection, seq: int, event: ev.Accepted) -> None:
    db.execute(
        insert(weighings).values(
            seq=seq,
            cast_number=event.number,
            step=event.step,
            ingredient=storable(event.ingredient),
            cup=storable(event.cup),
            target_mg=event.target.mg,
            low_mg=event.low.mg,
            high_mg=event.high.mg,
            net_mg=event.net.mg,
        )
    )


def _reopen(db: Connection, seq: int, event: ev.Reopened) -> None:
    standing = select(weighings.c.seq).where(
        weighings.c.cast_number == event.number, weighings.c.step == event.step, weighings.c.reopened_seq.is_(None)
    )
    last = db.execute(standing.order_by(weighings.c.seq.desc()).limit(1)).scalar()
    if last is not None:
        db.execute(update(weighings).where(weighings.c.seq == last).values(reopened_seq=seq))


def _raise(db: Connection, row: Row, event: ev.AlarmRaised) -> None:
    db.execute(
        insert(alarms).values(
            raised_seq=row.seq,
            cast_number=event.number,
            clock=event.clock.value,
            late_s=event.late_s,
            why=storable(event.why),
            due_while_off=int(_due_while_off(db, row, event.late_s)),
        )
    )


def _due_while_off(db: Connection, row: Row, late_s: float | None) -> bool:
    """Whether the alarm fell due before the station's latest start: nobody was there to sound it.

    Not so when it is unknown how late it sounded; readers see that from `late_s`.
    """
    if late_s is None:
        return False
    starts = select(journal.c.boot_id, journal.c.boot_s).where(
        journal.c.cast_number.is_(None), journal.c.kind == ev.StationStarted.__name__, journal.c.seq < row.seq
    )
    start = db.execute(starts.order_by(journal.c.seq.desc()).limit(1)).first()
    return start is not None and start.boot_id == row.boot_id and row.boot_s - late_s < start.boot_s


@dataclass(frozen=True, slots=True)
class Word:
    """A person's acknowledgement: by whom, and how long after the alarm was raised."""

    by: str
    after_s: float | None


def _silence(db: Connection, row: Row, number: int, clocks: frozenset[ClockKind], word: Word | None = None) -> None:
    """Alarms of these clocks that still sound are answered: by a person's word, or by going on."""
    sounding = select(alarms.c.raised_seq).where(
        alarms.c.cast_number == number,
        alarms.c.clock.in_(sorted(clock.value for clock in clocks)),
        alarms.c.silenced_seq.is_(None),
    )
    for raised_seq in db.execute(sounding).scalars().all():
        values: dict[str, object] = {"silenced_seq": row.seq}
        if word is None:
            raised = Row(*db.execute(select(journal).where(journal.c.seq == raised_seq)).one())
            values["after_s"] = gap_s(entry_of(raised).at, entry_of(row).at)
        else:
            values |= {"acknowledged_by": storable(word.by), "after_s": word.after_s}
        db.execute(update(alarms).where(alarms.c.raised_seq == raised_seq).values(values))


def _withdraw(db: Connection, number: int, clock: ClockKind) -> None:
    """It was no alarm after all: nobody missed it. The journal keeps that it sounded."""
    same = (alarms.c.cast_number == number, alarms.c.clock == clock.value, alarms.c.silenced_seq.is_(None))
    db.execute(delete(alarms).where(*same))


def _step_done(db: Connection, row: Row, number: int, step: Step | None) -> None:
    match step:
        case Mix():
            _silence(db, row, number, AFTER_MIX)
        case Pour():
            _stage(db, row.seq, number, Stage.IN_MOLD)
            pours.poured(db, row.seq, number)
            _silence(db, row, number, AFTER_POUR)
        case _:
            pass


def _step(db: Connection, seq: int, number: int, position: int) -> Step | None:
    """The step at `position` as it stood at journal row `seq`."""
    kinds = (ev.CastBegun.__name__, ev.Recomputed.__name__)
    found = select(journal).where(journal.c.cast_number == number, journal.c.kind.in_(kinds), journal.c.seq < seq)
    row = db.execute(found.order_by(journal.c.seq.desc()).limit(1)).first()
    if row is None:
        return None
    event = entry_of(Row(*row)).event
    steps: tuple[Step, ...] = ()
    if isinstance(event, ev.CastBegun):
        steps = event.plan.steps
    elif isinstance(event, ev.Recomputed):
        steps = event.steps
    return steps[position] if 0 <= position < len(steps) else None


def _stage(db: Connection, seq: int, number: int, stage: Stage) -> None:
    db.execute(update(casts).where(casts.c.number == number).values(stage=stage.value, stage_seq=seq))
