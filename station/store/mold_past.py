"""What became of the casts in each mold, counted in the database."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from sqlalchemy import Connection, func, select

from station.core.judging_events import Verdict
from station.records import Stage, When
from station.store import chain
from station.store.evidence import walls
from station.store.schema import casts, journal

JUDGED: Final = (Verdict.GOOD, Verdict.USABLE, Verdict.SCRAP)


@dataclass(frozen=True, slots=True)
class MoldPast:
    """`casts` were begun, `out` came out of the mold, `failed` were lost or given up. `last`: when the newest began.

    Of those that were judged as many were `good`, `usable` and `scrap`.
    """

    casts: int
    out: int
    failed: int
    last_number: int
    last: When
    good: int = 0
    usable: int = 0
    scrap: int = 0


def mold_pasts(db: Connection) -> Mapping[str, MoldPast]:
    """By the key of the mold; one that was never poured into is not in it."""
    out = func.count().filter(casts.c.stage == Stage.DEMOLDED.value)
    failed = func.count().filter(casts.c.stage.in_((Stage.LOST.value, Stage.GIVEN_UP.value)))
    counted = (
        select(
            casts.c.mold_key,
            func.count().label("all"),
            out.label("out"),
            failed.label("failed"),
            func.max(casts.c.number).label("newest"),
            *(func.count().filter(casts.c.verdict == verdict.value).label(verdict.name) for verdict in JUDGED),
        )
        .group_by(casts.c.mold_key)
        .subquery()
    )
    moments = (journal.c.boot_s, journal.c.boot_id, journal.c.wall, journal.c.trusted)
    lines = (
        select(counted, *moments)
        .join(casts, casts.c.number == counted.c.newest)
        .join(journal, journal.c.seq == casts.c.begun_seq)
    )
    known = walls(db)
    found = {}
    for key, every, gone_well, gone_ill, newest, good, usable, scrap, *moment in db.execute(lines):
        last = known.shown(chain.moment_of(*moment))
        found[key] = MoldPast(every, gone_well, gone_ill, newest, last, good, usable, scrap)
    return found
