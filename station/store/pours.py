"""The table of pours: of each cast that was poured, what may have mattered, reckoned once from its journal rows.

How the part came out is in the tables of judging; `store.facts` joins the two.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Sequence
from typing import Final

from sqlalchemy import Connection, delete, func, insert, select, update

from station.core import events as ev
from station.core.amount import free_rise
from station.core.material import Material
from station.core.moment import Moment, gap_s
from station.core.plan import CastPlan
from station.core.steps import Mix, Pour, Step
from station.errors import LedgerFault, Refused
from station.store.amounts import Weighed, ingredients, ratio, total
from station.store.chain import Row, entry_of
from station.store.schema import casts, journal, pours
from station.store.storable import storable

SINCE: Final = "0006"
"""The version of the record from which on the table is there."""

_KINDS: Final = tuple(
    kind.__name__
    for kind in (
        *(ev.CastBegun, ev.Recomputed, ev.FirstContact, ev.Accepted, ev.Reopened, ev.Combined, ev.StepDone),
        *(ev.EmptiedCupWeighed, ev.MixCupWeighed, ev.Demolded),
    )
)
"""Kinds of events that say something of a pour."""


def begun(db: Connection, number: int) -> None:
    """A cast of this number begins: nothing of it is poured."""
    db.execute(delete(pours).where(pours.c.number == number))


def poured(db: Connection, seq: int, number: int) -> None:
    """Journal row `seq` says that this cast was poured."""
    if (found := _reckoned(db, seq, number)) is None:
        return
    plan, values = found
    mold = storable(plan.mold.key)
    same = select(pours).where(pours.c.mold_key == mold, pours.c.number != number)
    shot = db.execute(same.order_by(pours.c.mold_shot.desc()).limit(1)).first()
    if shot is None:
        shots, since = 0, 0 if _released_before(db, seq, plan.mold.key) else None
    else:
        shots, since = shot.mold_shot, 0 if shot.renewed else shot.released_shot
    earlier = select(pours.c.number).where(pours.c.number != number, pours.c.poured_seq < seq)
    before = db.execute(earlier.order_by(pours.c.poured_seq.desc()).limit(1)).scalar()
    place = {"number": number, "poured_seq": seq, "before": before, "mold_shot": shots + 1}
    place["released_shot"] = None if since is None else since + 1
    db.execute(delete(pours).where(pours.c.number == number))
    db.execute(insert(pours).values(mold_key=mold, material_key=storable(plan.material.key), **place, **values))


def told_later(db: Connection, seq: int, number: int) -> None:
    """Journal row `seq` says what stayed in a cup of this cast, or that it came out: that changes its pour, if any."""
    if db.execute(select(pours.c.number).where(pours.c.number == number)).first() is None:
        return
    if (found := _reckoned(db, seq, number)) is not None:
        db.execute(update(pours).where(pours.c.number == number).values(found[1]))


def released(db: Connection, mold: str) -> None:
    """Release agent was put on this mold: its next shot is the first after that."""
    latest = select(func.max(pours.c.mold_shot)).where(pours.c.mold_key == storable(mold)).scalar_subquery()
    db.execute(update(pours).where(pours.c.mold_key == storable(mold), pours.c.mold_shot == latest).values(renewed=1))


def fill(db: Connection) -> None:
    """Fill the empty table from the journal. A cast that cannot be read is left out: `verify` is to tell of it."""
    found: list[tuple[int, int, int]] = []
    for number in db.execute(select(casts.c.number)).scalars().all():
        try:
            found += _told(_rows(db, number))
        except LedgerFault:
            continue
    renewed = dict(_releases(db))
    for seq, number, last in sorted([*found, *((seq, 0, 0) for seq in renewed)]):
        if seq in renewed:
            released(db, renewed[seq])
            continue
        poured(db, seq, number)
        if last > seq:
            told_later(db, last, number)


def _released_before(db: Connection, seq: int, mold: str) -> bool:
    return any(at < seq and of == mold for at, of in _releases(db))


def _releases(db: Connection) -> Iterator[tuple[int, str]]:
    """Where the journal says that release agent was put on, and on which mold."""
    kind = ev.ReleaseApplied.__name__
    rows = db.execute(select(journal).where(journal.c.cast_number.is_(None), journal.c.kind == kind)).all()
    for row in rows:
        event = entry_of(Row(*row)).event
        if isinstance(event, ev.ReleaseApplied):
            yield row.seq, event.mold


def _told(rows: Sequence[Row]) -> list[tuple[int, int, int]]:
    """When this cast was poured, its number, and when last something was said of its cups, or that it came out."""
    entries = [entry_of(row) for row in rows]
    steps: tuple[Step, ...] = ()
    found, last = [], 0
    for row, entry in zip(rows, entries, strict=True):
        match entry.event:
            case ev.CastBegun(plan=plan):
                steps = plan.steps
            case ev.Recomputed(steps=now):
                steps = now
            case ev.StepDone(number=number, step=step) if isinstance(_at(steps, step), Pour):
                found = [(row.seq, number)]
            case ev.EmptiedCupWeighed() | ev.MixCupWeighed() | ev.Demolded():
                last = row.seq
            case _:
                pass
    return [(seq, number, last) for seq, number in found]


def _reckoned(db: Connection, seq: int, number: int) -> tuple[CastPlan, dict[str, object]] | None:
    """The plan of this cast and what its rows up to `seq` say; None when it was never begun."""
    entries = [entry_of(row) for row in _rows(db, number, seq)]
    if not entries or not isinstance(first := entries[0].event, ev.CastBegun):
        return None
    return first.plan, _values(first.plan, entries)


def _rows(db: Connection, number: int, until: int | None = None) -> list[Row]:
    """The rows of this cast that say something of its pour, up to row `until`."""
    since = select(casts.c.begun_seq).where(casts.c.number == number).scalar_subquery()
    own = [journal.c.cast_number == number, journal.c.seq >= since, journal.c.kind.in_(_KINDS)]
    if until is not None:
        own.append(journal.c.seq <= until)
    return [Row(*row) for row in db.execute(select(journal).where(*own).order_by(journal.c.seq))]


def _values(plan: CastPlan, entries: Sequence[ev.Entry]) -> dict[str, object]:
    amounts = ingredients(plan, Weighed.of(entries))
    errors = [one.error_percent for one in ratio(plan, amounts)[1:] if one.error_percent is not None]
    left = next((one.event.residue for one in reversed(entries) if isinstance(one.event, ev.MixCupWeighed)), None)
    mix_s, contact_s, cure_s = _times(plan.steps, entries)
    return {
        "planned_mg": plan.total.mg,
        "mixed_mg": total(amounts).mg,
        "left_mg": None if left is None else left.mg,
        "ratio_error": _known(max(errors, key=abs) / 100 if errors else None),
        # To the millisecond: what is left of a difference of long boot times beyond that is no time.
        "mix_s": None if mix_s is None else round(mix_s, 3),
        "contact_s": None if contact_s is None else round(contact_s, 3),
        "cure_s": None if cure_s is None else round(cure_s, 3),
        "temperature_c": _known(plan.temperature_c),
        "humidity_percent": _known(plan.humidity_percent),
        "cavity_cm3": _known(plan.mold.cavity_cm3),
        "free_rise": _free_rise(plan.material),
        "lots": json.dumps([[storable(lot.component), storable(lot.number)] for lot in plan.lots], ensure_ascii=False),
    }


def _times(steps: tuple[Step, ...], entries: Sequence[ev.Entry]) -> tuple[float | None, float | None, float | None]:
    """Seconds of mixing, from first contact to the pour, and in the mold; None when unknown.

    Mixing begins with the event that ends the step before it. Unlike the sheet of a cast this does not look up what a
    boot learned of the time later: the table must come out the same whenever it is made.
    """
    contact: Moment | None = None
    started: Moment | None = None
    poured_at: Moment | None = None
    mix_s = contact_s = cure_s = None
    for entry in entries:
        match entry.event:
            case ev.Recomputed(steps=now):
                steps = now
            case ev.FirstContact(at=at):
                contact = at
            case ev.Accepted(step=step) | ev.Combined(step=step) | ev.StepDone(step=step):
                done = _at(steps, step)
                if isinstance(done, Mix) and started is not None:
                    mix_s = gap_s(started, entry.at)
                if isinstance(done, Pour):
                    poured_at = entry.at
                    contact_s = None if contact is None else gap_s(contact, entry.at)
                late = isinstance(entry.event, ev.Combined) and started is not None  # drops after the transfer
                if isinstance(_at(steps, step + 1), Mix) and not late:
                    started = entry.at
            case ev.Demolded() if poured_at is not None and cure_s is None:
                cure_s = gap_s(poured_at, entry.at)
            case _:
                pass
    return mix_s, contact_s, cure_s


def _at(steps: tuple[Step, ...], position: int) -> Step | None:
    return steps[position] if 0 <= position < len(steps) else None


def _free_rise(material: Material) -> float | None:
    """None as well where a plan of another hand has a density that cannot be: no entry fails for it."""
    try:
        return _known(free_rise(material))
    except Refused:
        return None


def _known(value: float | None) -> float | None:
    return value if value is not None and math.isfinite(value) else None
