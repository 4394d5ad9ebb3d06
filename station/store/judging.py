"""What the derived tables show of parts and their judging, event by event."""

from __future__ import annotations

from typing import assert_never

from sqlalchemy import Connection, delete, insert, update

from station.core import events as ev
from station.records import Stage
from station.store.schema import casts, defects, hardness, lengths
from station.store.storable import storable


def wait(db: Connection, number: int) -> None:
    """The part of this cast is out, and has no verdict."""
    db.execute(update(casts).where(casts.c.number == number, casts.c.verdict.is_(None)).values(waits=1))


def wait_no_more(db: Connection, number: int) -> None:
    """There will be no verdict on this cast's part."""
    db.execute(update(casts).where(casts.c.number == number).values(waits=0))


def project(db: Connection, seq: int, event: ev.JudgingEvent) -> None:
    """Bring the tables up to journal row `seq`, which holds `event`."""
    number = event.number
    this = update(casts).where(casts.c.number == number)
    match event:
        case ev.PartWeighed(mass=mass, trimmed=trimmed):
            db.execute(this.values(part_mg=mass.mg, trimmed=int(trimmed)))
        case ev.PartMassWithdrawn():
            db.execute(this.values(part_mg=None, trimmed=None))
        case ev.HardnessRead():
            _read(db, seq, event)
        case ev.HardnessWithdrawn(reading=reading):
            same = (hardness.c.cast_number == number, hardness.c.reading == reading)
            db.execute(update(hardness).where(*same, hardness.c.withdrawn_seq.is_(None)).values(withdrawn_seq=seq))
        case ev.ShrinkageMeasured(place=place):
            _lengths_replaced(db, seq, number, place)
            _measured(db, seq, event)
        case ev.ShrinkageWithdrawn(place=place):
            _lengths_replaced(db, seq, number, place)
        case ev.Judged():
            _judged(db, event)
        case ev.VerdictWithdrawn():
            db.execute(delete(defects).where(defects.c.cast_number == number))
            db.execute(this.values(verdict=None))
            db.execute(this.where(casts.c.stage == Stage.DEMOLDED.value).values(waits=1))
        case ev.JudgingWaived():
            wait_no_more(db, number)
        case _:
            assert_never(event)


def _read(db: Connection, seq: int, event: ev.HardnessRead) -> None:
    db.execute(
        insert(hardness).values(
            seq=seq,
            cast_number=event.number,
            reading=event.reading,
            scale=event.scale.value,
            value=event.value,
            place=storable(event.place),
            since_demold_s=event.since_demold_s,
        )
    )


def _lengths_replaced(db: Connection, seq: int, number: int, place: str) -> None:
    same = (lengths.c.cast_number == number, lengths.c.place == storable(place), lengths.c.replaced_seq.is_(None))
    db.execute(update(lengths).where(*same).values(replaced_seq=seq))


def _measured(db: Connection, seq: int, event: ev.ShrinkageMeasured) -> None:
    db.execute(
        insert(lengths).values(
            seq=seq,
            cast_number=event.number,
            mold_mm=event.mold_mm,
            part_mm=event.part_mm,
            place=storable(event.place),
        )
    )


def _judged(db: Connection, event: ev.Judged) -> None:
    db.execute(delete(defects).where(defects.c.cast_number == event.number))
    told = [
        {
            "cast_number": event.number,
            "ordinal": place,
            "kind": one.kind.value,
            "severity": one.severity.value,
            "place": storable(one.place),
        }
        for place, one in enumerate(event.defects)
    ]
    if told:
        db.execute(insert(defects), told)
    values: dict[str, object] = {"verdict": event.verdict.value, "waits": 0}
    words = " ".join(filter(None, (*(one.place for one in event.defects), event.note)))
    if words:
        values["searched"] = casts.c.searched + storable(f" {words}").casefold()
    db.execute(update(casts).where(casts.c.number == event.number).values(values))
