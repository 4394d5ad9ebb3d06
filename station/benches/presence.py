"""Presence: what this bench has at hand, for the others; and what the others have, as they last told it."""

from __future__ import annotations

from sqlalchemy import Connection, func, select, update

from station.benches.identity import Own, claim
from station.benches.tables import bench_now
from station.benches.telling import NotReadable, heard, told
from station.core.at_hand import AtHand
from station.neighbours import Neighbour


def tell(db: Connection, own: Own, value: AtHand) -> None:
    """Put down what is at hand here now. Raises NotTaken when the digit is another's."""
    claim(db, own)
    row = update(bench_now).where(bench_now.c.bench == own.bench)
    db.execute(row.values(title=own.title, at=func.clock_timestamp(), json=told(value)))


def others(db: Connection, bench: int | None) -> tuple[Neighbour, ...]:
    """All benches but `bench`, by their digits, with how long ago each told it by the server's own clock."""
    age = func.extract("epoch", func.clock_timestamp() - bench_now.c.at).label("age_s")
    rows = select(bench_now.c.bench, bench_now.c.title, age, bench_now.c.json).order_by(bench_now.c.bench)
    if bench is not None:
        rows = rows.where(bench_now.c.bench != bench)
    found: list[Neighbour] = []
    for row in db.execute(rows):
        age_s = max(0.0, float(row.age_s))
        try:
            found.append(Neighbour(row.bench, row.title, age_s, heard(row.json)))
        except NotReadable as why:
            found.append(Neighbour(row.bench, row.title, age_s, AtHand(), why.sentence()))
    return tuple(found)
