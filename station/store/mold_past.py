"""What became of the casts in each mold, counted in the database."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from sqlalchemy import Column, ColumnElement, Connection, func, or_, select

from station.core.judging_events import Verdict
from station.records import Stage, When
from station.store import chain
from station.store.evidence import walls
from station.store.schema import casts, journal

_FAILED: Final = (Stage.LOST, Stage.GIVEN_UP)


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
    every = select(casts.c.mold_key, func.count().label("all"), func.max(casts.c.number).label("newest"))
    counted = every.group_by(casts.c.mold_key).subquery()
    moments = (journal.c.boot_s, journal.c.boot_id, journal.c.wall, journal.c.trusted)
    lines = (
        select(counted, *moments)
        .join(casts, casts.c.number == counted.c.newest)
        .join(journal, journal.c.seq == casts.c.begun_seq)
    )
    known, stages, verdicts = walls(db), _not_out(db), _not_good(db)
    found = {}
    for key, count, newest, *moment in db.execute(lines):
        stage, verdict = stages.get(key, {}), verdicts.get(key, {})
        found[key] = MoldPast(
            casts=count,
            out=count - sum(stage.values()),
            failed=sum(stage.get(one.value, 0) for one in _FAILED),
            last_number=newest,
            last=known.shown(chain.moment_of(*moment)),
            good=count - sum(verdict.values()),
            usable=verdict.get(Verdict.USABLE.value, 0),
            scrap=verdict.get(Verdict.SCRAP.value, 0),
        )
    return found


def _not_out(db: Connection) -> dict[str, dict[str | None, int]]:
    """How many casts of each mold did not come out of it, by their stage.

    Most do, so that the others alone are looked up by an index; all casts are counted in an index.
    """
    stages = [stage.value for stage in Stage if stage is not Stage.DEMOLDED]
    return _by_mold(db, casts.c.stage, casts.c.stage.in_(stages))


def _not_good(db: Connection) -> dict[str, dict[str | None, int]]:
    """In the same way, how many are not judged to be good: by their verdict, None for those without one."""
    worse = [verdict.value for verdict in Verdict if verdict is not Verdict.GOOD]
    return _by_mold(db, casts.c.verdict, or_(casts.c.verdict.in_(worse), casts.c.verdict.is_(None)))


def _by_mold(db: Connection, what: Column[str], wanted: ColumnElement[bool]) -> dict[str, dict[str | None, int]]:
    counted = select(casts.c.mold_key, what, func.count()).where(wanted).group_by(casts.c.mold_key, what)
    found: dict[str, dict[str | None, int]] = {}
    for key, value, count in db.execute(counted):
        found.setdefault(key, {})[value] = count
    return found
