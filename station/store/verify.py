"""Verify: walk the journal's chain from its first row and find the first that was changed, lost or moved."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass, field, replace
from pathlib import Path

from sqlalchemy import Engine, func, select
from sqlalchemy.exc import SQLAlchemyError

from station.store.chain import GENESIS, Row, sealed_by
from station.store.engines import connect_read_only, open_reader, sqlite_path
from station.store.faults import STORE_ERRORS, RecordDamaged, fault_for, told_as_faults
from station.store.journal import CHUNK, rows_after
from station.store.photos import FOLDER as PHOTOS
from station.store.photos import PhotosFound
from station.store.photos import looked_through as photos_looked_through
from station.store.schema import evidence, journal
from station.store.traces import TracesFound, looked_through
from station.store.witness import WITNESS_FILE, Seen, Witness
from station.texts import N_, t, tn


@dataclass(frozen=True, slots=True)
class Verdict:
    """`rows` were found in order. Not `ok`: `seq` is the first bad place and `words` what is wrong there.

    `traces` tells of the weighing traces of a record that is `ok`.
    """

    ok: bool
    rows: int
    seq: int | None
    words: str
    traces: TracesFound = field(default_factory=TracesFound)


def verify(place: Path | str) -> Verdict:
    """Walk the whole journal at a path or URL, then look through the traces.

    Raises LedgerFault when the record cannot be opened at all.
    """
    path = sqlite_path(place)
    # Read before the walk: a station that writes meanwhile must not look like a journal cut short.
    seen = None if path is None else Witness(path.with_name(WITNESS_FILE)).read()
    engine = open_reader(place)
    try:
        with told_as_faults(place):
            verdict = verified(engine)
            if verdict.ok and seen is not None and seen.seq > verdict.rows:
                return Verdict(False, verdict.rows, verdict.rows + 1, cut_short(verdict.rows, seen))
            if verdict.ok and path is not None and (wrong := _file_damage(path)):
                words = t("The journal is whole, but the file around it is damaged: {wrong}.", wrong=wrong)
                return Verdict(False, verdict.rows, None, words)
            return replace(verdict, traces=looked_through(engine)) if verdict.ok else verdict
    except RecordDamaged as damage:
        # Where the name of a table is spoilt no walk can begin.
        return Verdict(False, 0, None, str(damage))
    finally:
        engine.dispose()


def verify_photos(record: Path, *, reading: bool = True) -> PhotosFound:
    """Hold the photos beside a record, which was found whole, against it. Raises LedgerFault.

    Without `reading` it only looks whether they are there, which costs the card nothing.
    """
    engine = open_reader(record)
    try:
        with told_as_faults(record):
            return photos_looked_through(engine, record.parent / PHOTOS, reading=reading)
    finally:
        engine.dispose()


def _file_damage(path: Path) -> str:
    """What SQLite finds wrong in traces, derived tables and indexes; empty when nothing."""
    try:
        with closing(connect_read_only(path)) as db:
            told = str(db.execute("PRAGMA integrity_check(1)").fetchone()[0])
    except STORE_ERRORS as why:
        told = str(why)
    return "" if told == "ok" else " ".join(told.split())[:120]


def cut_short(rows: int, seen: Seen) -> str:
    """What is wrong when the journal ends with row `rows`, and a witness has seen more."""
    return t(
        "Row {next} is missing: the journal ends with row {last}, but it had come to row {seen}.",
        next=rows + 1,
        last=rows,
        seen=seen.seq,
    )


def verified(engine: Engine) -> Verdict:
    """Walk the whole journal behind a reader engine."""
    good = 0
    try:
        for _ in walked(engine):
            good += 1
    except ChainBroken as broken:
        return broken.verdict
    return Verdict(True, good, None, tn("The only row is whole.", "All {n} rows are whole and in order.", good))


class ChainBroken(Exception):
    """The walk came to a place where the chain does not hold."""

    def __init__(self, verdict: Verdict) -> None:
        super().__init__(verdict.words)
        self.verdict = verdict


def walked(engine: Engine, after: tuple[int, str] = (0, GENESIS)) -> Iterator[Row]:
    """The journal's rows in order, each proved by the chain. Raises ChainBroken, at the end too if rows are missing.

    `after` is the number and digest of a row up to which the journal is known to be whole.
    """
    ends = {seq: digest for seq, digest in _noted_ends(engine).items() if seq > after[0]}
    good, before = after
    try:
        for row in _rows(engine, good):
            wrong = _wrong(engine, row, good + 1, before)
            if wrong:
                raise ChainBroken(Verdict(False, good, min(row.seq, good + 1), wrong))
            noted = ends.pop(row.seq, row.digest)
            if noted != row.digest:
                text = N_("Row {row} is not the row with which the journal ended when it was last written.")
                raise ChainBroken(Verdict(False, good, row.seq, t(text, row=row.seq)))
            before, good = row.digest, good + 1
            yield row
    except _Unreadable as why:
        words = t("Row {row} cannot be read: {why}", row=good + 1, why=why)
        raise ChainBroken(Verdict(False, good, good + 1, words)) from why
    if ends:
        words = t(
            "Row {next} is missing: the journal ends with row {last}, but it once reached row {reached}.",
            next=good + 1,
            last=good,
            reached=max(ends),
        )
        raise ChainBroken(Verdict(False, good, good + 1, words))


class _Unreadable(Exception):
    """A row that the database cannot even hand out."""


def _rows(engine: Engine, seq: int) -> Iterator[Row]:
    size = CHUNK
    while True:
        try:
            with engine.begin() as db:
                rows = rows_after(db, seq, size)
        except (SQLAlchemyError, sqlite3.Error) as why:
            if size == 1:
                raise _Unreadable(str(fault_for(why, t("the record")))) from why
            size = 1  # one by one, to come as far as the bad one
            continue
        if not rows:
            return
        yield from rows
        seq = rows[-1].seq


def _wrong(engine: Engine, row: Row, expected: int, before: str) -> str:
    """What is wrong with a row that should be number `expected` after digest `before`; empty when nothing is."""
    if not isinstance(row.seq, int) or row.seq != expected:
        return t("Row {row} is missing: row {next} comes next.", row=expected, next=row.seq)
    seal = _seal(row)
    if seal == row.digest and row.previous == before:
        return ""
    if seal == row.digest:
        text = N_("Row {row} does not follow the row before it: one of them was put in the place of another.")
        return t(text, row=row.seq)
    place = _own_place(engine, row)
    if place is not None:
        return t("Row {row} is out of order: it was written as row {place}.", row=row.seq, place=place)
    return t("Row {row} was changed after it was written.", row=row.seq)


def _seal(row: Row) -> str | None:
    try:
        return sealed_by(row)
    except (TypeError, ValueError):  # a value of a type that no row was ever written with
        return None


def _own_place(engine: Engine, row: Row) -> int | None:
    """The number under which the row's digest fits, if it is whole and only moved."""
    with engine.begin() as db:
        last = db.execute(select(func.max(journal.c.seq))).scalar() or 0
    return next((seq for seq in range(1, last + 1) if _seal(replace(row, seq=seq)) == row.digest), None)


def _noted_ends(engine: Engine) -> dict[int, str]:
    ends = select(evidence.c.journal_seq, evidence.c.journal_digest).where(evidence.c.journal_seq.is_not(None))
    with engine.begin() as db:
        return {row.journal_seq: row.journal_digest for row in db.execute(ends)}
