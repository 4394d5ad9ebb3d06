"""What became of the casts in each mold, counted in the database."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from sqlalchemy import Connection, func, select

from station.records import Stage, When
from station.store import chain
from station.store.evidence import walls
from station.store.schema import casts, journal

_FAILED: Final = (Stage.LOST, Stage.GIVEN_UP)


@dataclass(frozen=True, slots=True)
class MoldPast:
    """`casts` were begun, `out` came out of the mold, `failed` were lost or given up. `last`: when the newest began."""

    casts: int
    out: int
    failed: int
    last_number: int
    last: When


def mold_pasts(db: Connection) -> Mapping[str, MoldPast]:
    """By the key of the mold; one that was never poured into is not in it."""
    every = select(casts.c.mold_key, func.count().label("all"), func.max(casts.c.number).label("newest"))
    counted = every.group_by(casts.c.mold_key).subquery()
    moments = (journal.c.boot_s, journal.c.boot_id, journal.c.wall, journal.c.trusted)
    lines = (
        select(counted, *moments)
        .join(casts, casts.c.number == counted.c.newest)
        .join(journal, journal.c.seq == casts.c.begun_seq)
    )
    known, others = walls(db), _not_out(db)
    pasts = {}
    for key, count, newest, *moment in db.execute(lines):
        stages = others.get(key, {})
        failed = sum(number for stage, number in stages.items() if stage in _FAILED)
        out = count - sum(stages.values())
        pasts[key] = MoldPast(count, out, failed, newest, known.shown(chain.moment_of(*moment)))
    return pasts


def _not_out(db: Connection) -> dict[str, dict[Stage, int]]:
    """How many casts of each mold did not come out of it, by their stage.

    Most casts do, so that the others alone are looked up by their stage; all casts are counted in an index.
    """
    stages = [stage.value for stage in Stage if stage is not Stage.DEMOLDED]
    counted = select(casts.c.mold_key, casts.c.stage, func.count()).where(casts.c.stage.in_(stages))
    found: dict[str, dict[Stage, int]] = {}
    for key, stage, count in db.execute(counted.group_by(casts.c.mold_key, casts.c.stage)):
        found.setdefault(key, {})[Stage(stage)] = count
    return found
