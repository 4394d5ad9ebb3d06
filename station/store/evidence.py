"""Evidence that the station ran: one row for each boot, from when until when, and how its wall clock stood.

A wall clock that was wrong at first and trusted later corrects what was written before: the offset found
then belongs to the whole boot. The journal keeps what was written at the time.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from sqlalchemy import Connection, func, insert, select, update

from station.core.moment import Moment
from station.records import When
from station.store.chain import SET_BY_HAND, SURE, Row, moment_of, trust_of
from station.store.schema import evidence


def note(db: Connection, at: Moment, end: Row | None = None) -> None:
    """Note that the station ran at `at`; `end` is the journal's last row when something was just written."""
    known = db.execute(select(evidence).where(evidence.c.boot_id == at.boot_id)).first()
    offset = at.wall.timestamp() - at.boot_s if at.trusted else None
    changes: dict[str, object] = {}
    if end is not None:
        changes |= {"journal_seq": end.seq, "journal_digest": end.digest}
    if known is None or at.boot_s >= known.last_boot_s:
        changes |= {"last_boot_s": at.boot_s, "last_wall": at.wall.isoformat(), "last_trusted": trust_of(at)}
    if known is None:
        ordinal = db.execute(select(func.coalesce(func.max(evidence.c.ordinal), 0) + 1)).scalar_one()
        first = {"first_boot_s": at.boot_s, "first_wall": at.wall.isoformat(), "first_trusted": trust_of(at)}
        new = {"ordinal": ordinal, "boot_id": at.boot_id, "wall_offset": offset, **first, **changes}
        db.execute(insert(evidence).values(new))
        return
    # A time service outdoes a hand, and a hand its own earlier word; else the first offset of a boot stays.
    better = known.last_trusted != SURE and (not at.by_hand or known.last_trusted == SET_BY_HAND)
    if offset is not None and (known.wall_offset is None or better):
        changes["wall_offset"] = offset
    if changes:
        db.execute(update(evidence).where(evidence.c.boot_id == at.boot_id).values(changes))


def last_seen(db: Connection) -> Moment | None:
    """The latest moment for which there is evidence; None for a new record."""
    row = db.execute(select(evidence).order_by(evidence.c.ordinal.desc()).limit(1)).first()
    return None if row is None else moment_of(row.last_boot_s, row.boot_id, row.last_wall, row.last_trusted)


@dataclass(frozen=True, slots=True)
class Walls:
    """The wall clock of each boot: seconds since 1970 (UTC) at its boot-time zero, once that was known."""

    offsets: dict[str, float]

    def shown(self, at: Moment) -> When:
        """The wall time to show for a moment, corrected where its boot learned better later."""
        offset = self.offsets.get(at.boot_id)
        if at.trusted or offset is None:
            return When(at.wall, at.trusted)
        return When(datetime(1970, 1, 1, tzinfo=UTC) + timedelta(seconds=offset + at.boot_s), True)

    def span_s(self, earlier: Moment | None, later: Moment | None) -> float | None:
        """Seconds between two moments: by boot time within one boot, else by trusted walls; None when unknown."""
        if earlier is None or later is None:
            return None
        if earlier.boot_id == later.boot_id:
            return later.boot_s - earlier.boot_s
        first, second = self.shown(earlier), self.shown(later)
        if not (first.sure and second.sure):
            return None
        span = (second.wall - first.wall).total_seconds()
        return span if span >= 0 else None


def walls(db: Connection) -> Walls:
    """What is known of each boot's wall clock."""
    rows = db.execute(select(evidence.c.boot_id, evidence.c.wall_offset).where(evidence.c.wall_offset.is_not(None)))
    return Walls({row.boot_id: row.wall_offset for row in rows})
