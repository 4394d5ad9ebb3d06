"""Lots in the derived tables: filled from the journal, and asked which casts contain one. Each walks along an index."""

from __future__ import annotations

from typing import Final

from sqlalchemy import Connection, delete, func, insert, select

from station.core import events as ev
from station.core.judging_events import Verdict
from station.core.mass import Mass
from station.lot_records import LotCast, LotCount, LotRecord
from station.records import Stage
from station.store import chain
from station.store.evidence import Walls, walls
from station.store.schema import cast_lots, casts, journal, lot_counts, weighings
from station.store.storable import storable
from station.store.values import kind_of

MOST: Final = 500
"""Casts of a lot at a time: a container that holds for more is turned page by page."""


def project_lots(db: Connection, event: ev.CastBegun) -> None:
    """Note the lots that a cast was begun with, in place of what was noted for its number."""
    db.execute(delete(cast_lots).where(cast_lots.c.cast_number == event.number))
    named = dict.fromkeys((storable(lot.number), storable(lot.component)) for lot in event.plan.lots)
    rows = [{"lot": lot, "cast_number": event.number, "ingredient": ingredient} for lot, ingredient in named]
    if rows:
        db.execute(insert(cast_lots), rows)


def project_count(db: Connection, seq: int, event: ev.LotCounted) -> None:
    """Note where the journal says that the lot was counted."""
    db.execute(insert(lot_counts).values(seq=seq, lot=storable(event.lot)))


def lot_record(db: Connection, lot: str, before: int | None = None, limit: int = MOST) -> LotRecord:
    """All of a lot; of its casts those numbered below `before`, the newest `limit` of them."""
    known = walls(db)
    found = _casts(db, lot, before, limit + 1, known)
    return LotRecord(lot, found[:limit], _counts(db, lot, known), older=len(found) > limit)


def _casts(db: Connection, lot: str, before: int | None, limit: int, known: Walls) -> tuple[LotCast, ...]:
    named = select(cast_lots.c.cast_number, cast_lots.c.ingredient).where(cast_lots.c.lot == storable(lot))
    if before is not None:
        named = named.where(cast_lots.c.cast_number < before)
    # The page first: nothing is fetched of casts that are not on it.
    page = named.order_by(cast_lots.c.cast_number.desc(), cast_lots.c.ingredient.desc()).limit(limit).subquery()
    moments = (journal.c.boot_s, journal.c.boot_id, journal.c.wall, journal.c.trusted)
    weighed = (
        select(func.sum(weighings.c.net_mg))
        .where(
            weighings.c.cast_number == page.c.cast_number,
            weighings.c.ingredient == page.c.ingredient,
            weighings.c.reopened_seq.is_(None),
        )
        .scalar_subquery()
    )
    rows = db.execute(
        select(
            page.c.ingredient,
            casts.c.number,
            casts.c.mold,
            casts.c.material,
            casts.c.stage,
            casts.c.verdict,
            weighed,
            *moments,
        )
        .join(casts, casts.c.number == page.c.cast_number)
        .join(journal, journal.c.seq == casts.c.begun_seq)
    )
    lines = [
        LotCast(
            number=number,
            begun=known.shown(chain.moment_of(*at)),
            mold=mold,
            material=material,
            ingredient=ingredient,
            taken=Mass(net or 0),
            stage=kind_of(Stage, stage),
            verdict=None if verdict is None else kind_of(Verdict, verdict),
        )
        for ingredient, number, mold, material, stage, verdict, net, *at in rows
    ]
    return tuple(sorted(lines, key=lambda cast: (-cast.number, cast.ingredient)))


def _counts(db: Connection, lot: str, known: Walls) -> tuple[LotCount, ...]:
    rows = db.execute(
        select(journal)
        .join(lot_counts, lot_counts.c.seq == journal.c.seq)
        .where(lot_counts.c.lot == storable(lot))
        .order_by(lot_counts.c.seq)
    )
    entries = [chain.entry_of(chain.Row(*row)) for row in rows]
    return tuple(
        LotCount(known.shown(entry.at), entry.event.left, entry.event.by)
        for entry in entries
        if isinstance(entry.event, ev.LotCounted)
    )
