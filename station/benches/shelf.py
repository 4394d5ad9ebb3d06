"""The casts of all benches in the shared log: put there by their own bench, read by the others."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import Connection, Row, func, select
from sqlalchemy.dialects.postgresql import insert

from station.benches.tables import casts
from station.core.mass import Mass
from station.neighbours import SharedCast


def put(db: Connection, bench: int, cast: SharedCast) -> None:
    """Put a cast of this bench there, in the place of what was said of it before."""
    values: dict[str, object] = {
        "begun": cast.begun,
        "sure": int(cast.sure),
        "material": cast.material,
        "mold": cast.mold,
        "total_mg": cast.total.mg,
        "stage": cast.stage,
        "text": cast.text,
        "changed": func.clock_timestamp(),
    }
    new = insert(casts).values(bench=bench, number=cast.number, edition=1, **values)
    again = new.on_conflict_do_update(
        index_elements=[casts.c.bench, casts.c.number], set_=values | {"edition": casts.c.edition + 1}
    )
    db.execute(again)


def newest(db: Connection, *, but: int | None, limit: int, known: Iterable[SharedCast] = ()) -> tuple[SharedCast, ...]:
    """Casts of all benches except `but`, the last changed first. What is `known` is read again only if it changed."""
    have = {(cast.bench, cast.number, cast.edition): cast for cast in known}
    keys = select(casts.c.bench, casts.c.number, casts.c.edition).order_by(
        casts.c.changed.desc(), casts.c.bench, casts.c.number.desc()
    )
    if but is not None:
        keys = keys.where(casts.c.bench != but)
    found: list[SharedCast] = []
    for key in db.execute(keys.limit(limit)).all():
        known_one = have.get((key.bench, key.number, key.edition))
        found.append(known_one or _read(db, key.bench, key.number))
    return tuple(found)


def _read(db: Connection, bench: int, number: int) -> SharedCast:
    columns = casts.columns[:-1]
    return _cast(db.execute(select(*columns).where(casts.c.bench == bench, casts.c.number == number)).one())


def _cast(row: Row[tuple[object, ...]]) -> SharedCast:
    return SharedCast(
        bench=row.bench,
        number=row.number,
        begun=row.begun,
        sure=bool(row.sure),
        material=row.material,
        mold=row.mold,
        total=Mass(row.total_mg),
        stage=row.stage,
        text=row.text,
        edition=row.edition,
    )
