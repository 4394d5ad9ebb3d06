"""The weighing traces of the record: beside the journal, whose rows hold their digests. So a damaged one is found.

A trace is a convenience, the journal is what counts: one that is damaged or gone makes no record a damaged one.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from sqlalchemy import Connection, Engine, delete, func, insert, select

from station.core.effects import KeepTrace
from station.core.events import Accepted, Combined
from station.core.trace import Points, digest_of
from station.errors import LedgerFault
from station.store.codec import decode
from station.store.schema import journal, traces
from station.store.trace_codec import pack, unpack
from station.texts import t, tn

Place = tuple[int, int]
"""Number of the cast, place of the step in it."""

_KINDS: Final = (Accepted.__name__, Combined.__name__)
_CASTS_AT_ONCE: Final = 200


@dataclass(frozen=True, slots=True)
class TracesFound:
    """`whole` traces are as they were weighed, those of `undigested` steps nobody can tell about.

    `damaged`: the casts, ascending, of which a trace was changed or is gone.
    """

    whole: int = 0
    undigested: int = 0
    damaged: tuple[int, ...] = ()

    def words(self) -> str:
        """What a person must know of it, in sentences; empty when all is well."""
        told: list[str] = []
        if self.damaged:
            told.append(
                tn(
                    "Weighing traces of cast {which} are damaged or gone.",
                    "Weighing traces of casts {which} are damaged or gone.",
                    len(self.damaged),
                    which=", ".join(map(str, self.damaged)),
                )
            )
            told.append(t("The record is not: what was weighed stands in the journal, and that is what counts."))
        if self.undigested:
            told.append(tn("{n} trace has no digest.", "{n} traces have no digest.", self.undigested))
        return " ".join(told)


def keep(db: Connection, trace: KeepTrace) -> None:
    """A step that was weighed again keeps its latest trace."""
    _put(db, (trace.number, trace.step), pack(trace.points))


def keep_saved(db: Connection, place: Place, points: bytes) -> None:
    """Keep a trace that was found elsewhere, if the journal vouches for it or there is nothing better."""
    digest, there = _digests(db, place[0], place[0]).get(place, ""), _blob(db, place)
    better = there is None if not digest else _fits(points, digest) and not _fits(there, digest)
    if better:
        _put(db, place, points)


def fits_its_digest(db: Connection, place: Place, points: bytes) -> bool:
    """Whether packed points can be read and are what was weighed, as far as the journal tells. Raises LedgerFault."""
    digest = _digests(db, place[0], place[0]).get(place, "")
    try:
        return digest_of(unpack(points)) == digest or not digest
    except LedgerFault:
        return False


def keep_proved(db: Connection, place: Place, points: bytes) -> bool:
    """Keep a trace of a step that has none yet, if it is what was weighed; whether it was. Raises LedgerFault."""
    proved = fits_its_digest(db, place, points)
    if proved:
        _put(db, place, points)
    return proved


def whole_trace(db: Connection, place: Place) -> Points | None:
    """The trace of a step; None when there is none. Raises LedgerFault when it is not as it was weighed."""
    blob = _blob(db, place)
    if blob is None:
        return None
    digest, points = _digests(db, place[0], place[0]).get(place, ""), unpack(blob)
    if digest and digest_of(points) != digest:
        raise LedgerFault(t("A weighing trace in the record is damaged; the weighing's result is not."))
    return points


def looked_through(engine: Engine) -> TracesFound:
    """Hold every trace against its digest. The journal must have been found whole. Raises LedgerFault."""
    whole = undigested = 0
    damaged: set[int] = set()
    for digests, kept in _by_casts(engine):
        for place in digests.keys() | kept.keys():
            digest = digests.get(place, "")
            if not digest:
                undigested += 1
            elif _fits(kept.get(place), digest):
                whole += 1
            else:
                damaged.add(place[0])
    return TracesFound(whole, undigested, tuple(sorted(damaged)))


def _by_casts(engine: Engine) -> Iterator[tuple[dict[Place, str], dict[Place, object]]]:
    """Digests and packed traces of some casts after the other, each read as the record was at one moment."""
    first: int | None = 0
    while first is not None:
        last = first + _CASTS_AT_ONCE - 1
        with engine.begin() as db:
            digests = _digests(db, first, last)
            found = db.execute(select(traces).where(traces.c.cast_number.between(first, last)))
            kept: dict[Place, object] = {(row.cast_number, row.step): row.points for row in found}
            # Numbers may leap: each of several benches counts its own casts.
            nexts = [
                db.execute(select(func.min(column)).where(column > last)).scalar()
                for column in (journal.c.cast_number, traces.c.cast_number)
            ]
        yield digests, kept
        first = min((number for number in nexts if number is not None), default=None)


def _digests(db: Connection, first: int, last: int) -> dict[Place, str]:
    """The digests that the journal holds of these casts' traces; of a step that was weighed again the latest."""
    rows = select(journal.c.kind, journal.c.payload).where(
        journal.c.cast_number.between(first, last), journal.c.kind.in_(_KINDS)
    )
    digests: dict[Place, str] = {}
    for kind, payload in db.execute(rows.order_by(journal.c.cast_number, journal.c.seq)):
        event = decode(kind, payload)
        if isinstance(event, Accepted | Combined) and event.trace:
            digests[event.number, event.step] = event.trace
    return digests


def _fits(points: object, digest: str) -> bool:
    try:
        return isinstance(points, bytes) and digest_of(unpack(points)) == digest
    except LedgerFault:
        return False


def _blob(db: Connection, place: Place) -> bytes | None:
    number, step = place
    return db.execute(select(traces.c.points).where(traces.c.cast_number == number, traces.c.step == step)).scalar()


def _put(db: Connection, place: Place, points: bytes) -> None:
    number, step = place
    db.execute(delete(traces).where(traces.c.cast_number == number, traces.c.step == step))
    db.execute(insert(traces).values(cast_number=number, step=step, points=points))
