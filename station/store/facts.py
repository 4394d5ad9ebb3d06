"""Facts of poured casts out of the derived tables: what `insight` compares, for the newest of those asked for."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Sequence
from datetime import datetime
from typing import Any, Final

from sqlalchemy import ColumnElement, Connection, Row, Select, Table, select

from station.core.judging_events import Defect, DefectKind, HardnessScale, Severity, Verdict
from station.insight.facts import CastFacts, Hardness
from station.store.chain import moment_of
from station.store.evidence import Walls, walls
from station.store.questions import numbers_between
from station.store.schema import casts, defects, hardness, journal, lengths, pours
from station.store.values import kind_of, values_of

AT_ONCE: Final = 500
"""So many numbers are named in one question."""

_DAY_S: Final = 86400.0


def facts(
    db: Connection,
    *,
    mold: str = "",
    material: str = "",
    last: int = 60,
    since: datetime | None = None,
    until: datetime | None = None,
) -> tuple[CastFacts, ...]:
    """Of the casts poured into `mold` with `material` ("": any), begun in [since, until), the newest `last`.

    The oldest of them stands first.
    """
    within = numbers_between(db, since, until)
    if within is None:
        return ()
    wanted: list[ColumnElement[bool]] = [pours.c.number.between(*within)]
    if mold:
        wanted.append(pours.c.mold_key == mold)
    if material:
        wanted.append(pours.c.material_key == material)
    rows = db.execute(_lines(wanted, last)).all()[::-1]
    numbers = [row.number for row in rows]
    wrong, hard, lost = _wrong(db, numbers), _hard(db, numbers), _lost(db, numbers)
    known = walls(db)
    return tuple(_fact(row, known, wrong[row.number], hard[row.number], lost[row.number]) for row in rows)


def facts_of(db: Connection, numbers: Sequence[int], known: Walls) -> dict[int, CastFacts]:
    """The facts of these casts, at most `AT_ONCE`, by number; one that was not poured has none."""
    rows = db.execute(_lines([pours.c.number.in_(numbers)], len(numbers))).all()
    wrong, hard, lost = _wrong(db, numbers), _hard(db, numbers), _lost(db, numbers)
    return {row.number: _fact(row, known, wrong[row.number], hard[row.number], lost[row.number]) for row in rows}


def _lines(wanted: Sequence[ColumnElement[bool]], last: int) -> Select[Any]:
    """Pours with their casts and the moments at which they, and those poured before them, were begun."""
    page = select(pours).where(*wanted).order_by(pours.c.number.desc()).limit(last).subquery()
    before, its, their = casts.alias("earlier"), journal.alias("its"), journal.alias("their")
    moments = [
        column.label(f"{which}_{column.name}")
        for which, table in (("its", its), ("their", their))
        for column in (table.c.boot_s, table.c.boot_id, table.c.wall, table.c.trusted)
    ]
    part = (casts.c.mold, casts.c.material, casts.c.part_mg, casts.c.trimmed, casts.c.verdict)
    return (
        select(page, *part, *moments)
        .join(casts, casts.c.number == page.c.number)
        .join(its, its.c.seq == casts.c.begun_seq)
        .outerjoin(before, before.c.number == page.c.before)
        .outerjoin(their, their.c.seq == before.c.begun_seq)
        .order_by(page.c.number.desc())
    )


def _fact(
    row: Row[Any],
    known: Walls,
    wrong: Sequence[Defect],
    hard: Sequence[Hardness],
    lost: Sequence[float],
) -> CastFacts:
    with values_of(row.number):
        begun = known.shown(moment_of(row.its_boot_s, row.its_boot_id, row.its_wall, row.its_trusted))
        pause_s: float | None = None
        if row.their_boot_id is not None:
            at = moment_of(row.their_boot_s, row.their_boot_id, row.their_wall, row.their_trusted)
            pause_s = known.span_s(at, moment_of(row.its_boot_s, row.its_boot_id, row.its_wall, row.its_trusted))
        part_g = None if row.part_mg is None else row.part_mg / 1000
        density = part_g / row.cavity_cm3 if part_g is not None and row.cavity_cm3 else None
        return CastFacts(
            number=row.number,
            begun=begun.wall,
            mold=row.mold_key,
            mold_title=row.mold,
            material=row.material_key,
            lots=tuple((component, lot) for component, lot in json.loads(row.lots)),
            shot_g=None if row.left_mg is None else (row.mixed_mg - row.left_mg) / 1000,
            planned_g=row.planned_mg / 1000,
            ratio_error=row.ratio_error,
            mix_s=row.mix_s,
            contact_to_pour_s=row.contact_s,
            cure_s=row.cure_s,
            temperature_c=row.temperature_c,
            humidity_percent=row.humidity_percent,
            mold_shot=row.mold_shot,
            shots_since_release=row.released_shot,
            pause_days=None if pause_s is None else pause_s / _DAY_S,
            cavity_cm3=row.cavity_cm3,
            part_g=part_g,
            trimmed=None if row.trimmed is None else bool(row.trimmed),
            density_g_cm3=density,
            packing_factor=density / row.free_rise if density is not None and row.free_rise else None,
            hardness=tuple(hard),
            shrinkage=sum(lost) / len(lost) if lost else None,
            verdict=None if row.verdict is None else kind_of(Verdict, row.verdict),
            defects=tuple(wrong),
            material_title=row.material,
            mixed_g=row.mixed_mg / 1000,
        )


def _wrong(db: Connection, numbers: Sequence[int]) -> dict[int, list[Defect]]:
    found: dict[int, list[Defect]] = defaultdict(list)
    for row in _of(db, defects, numbers):
        found[row.cast_number].append(Defect(kind_of(DefectKind, row.kind), kind_of(Severity, row.severity), row.place))
    return found


def _hard(db: Connection, numbers: Sequence[int]) -> dict[int, list[Hardness]]:
    found: dict[int, list[Hardness]] = defaultdict(list)
    for row in _of(db, hardness, numbers):
        if row.withdrawn_seq is None:
            found[row.cast_number].append(Hardness(kind_of(HardnessScale, row.scale), row.value, row.place))
    return found


def _lost(db: Connection, numbers: Sequence[int]) -> dict[int, list[float]]:
    """How much smaller the part is than the mold, at each place where both were measured."""
    found: dict[int, list[float]] = defaultdict(list)
    for row in _of(db, lengths, numbers):
        if row.replaced_seq is None and row.mold_mm > 0:
            found[row.cast_number].append((row.mold_mm - row.part_mm) / row.mold_mm)
    return found


def _of(db: Connection, table: Table, numbers: Sequence[int]) -> list[Row[Any]]:
    """The rows of a table that belong to these casts, in the order in which they were told."""
    found: list[Row[Any]] = []
    for begin in range(0, len(numbers), AT_ONCE):
        some = numbers[begin : begin + AT_ONCE]
        order = table.primary_key.columns.values()
        found += db.execute(select(table).where(table.c.cast_number.in_(some)).order_by(*order)).all()
    return found
