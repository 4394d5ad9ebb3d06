"""Walls: what is known of each boot's wall clock, and of each stretch for which the power was off between two boots.

Both are gathered by the fold. What is learned late in a boot (a time service was heard, a person has told the time)
thereby counts for everything that happened in it before.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from enum import Enum

from station.core.moment import Moment
from station.texts import N_

BOOTS_KEPT = 24
OUTAGES_KEPT = 8


class HowKnown(Enum):
    """How the length of a power cut is known; a later one outdoes an earlier one. The value is that in words."""

    NOBODY = N_("nobody knows")
    TOLD = N_("somebody has told it")
    SET = N_("the time was set by hand")
    HEARD = N_("the time is known")


RANK = {how: rank for rank, how in enumerate(HowKnown)}


@dataclass(frozen=True, slots=True)
class BootWall:
    """One boot's wall clock: `offset_s` is seconds since 1970 (UTC) at its boot-time zero, None while unknown.

    `since` is when that was learned, `by` who told it where it was set by hand. `shift_s` is by how much the time
    service moved a wall that had been set by hand (positive: it had been behind).
    """

    boot_id: str
    offset_s: float | None
    by_hand: bool
    since: Moment
    by: str = ""
    shift_s: float | None = None


@dataclass(frozen=True, slots=True)
class Outage:
    """Off from `last_seen` in one boot until `back` in the next, for `off_s` seconds; `how` None: nobody asked yet."""

    last_seen: Moment
    back: Moment
    off_s: float | None = None
    how: HowKnown | None = None


def offset_of(at: Moment) -> float:
    """Seconds since 1970 at the boot-time zero of this moment, by its own wall."""
    return at.wall.timestamp() - at.boot_s


def wall_at(offset_s: float, boot_s: float) -> datetime:
    """The wall time (UTC) at a boot-time. Raises OverflowError for one beyond all calendars."""
    return datetime(1970, 1, 1, tzinfo=UTC) + timedelta(seconds=offset_s + boot_s)


def wall_of(walls: tuple[BootWall, ...], boot_id: str) -> BootWall | None:
    """What is known of this boot; None when nothing was ever written in it."""
    return next((wall for wall in reversed(walls) if wall.boot_id == boot_id), None)


def seen(walls: tuple[BootWall, ...], at: Moment) -> tuple[BootWall, ...]:
    """With what one more entry tells: the time service outdoes a hand, and the first that it says stays."""
    known = wall_of(walls, at.boot_id)
    if known is None:
        offset = offset_of(at) if at.trusted else None
        return (*walls, BootWall(at.boot_id, offset, at.by_hand, at))[-BOOTS_KEPT:]
    if not at.trusted or (known.offset_s is not None and (at.by_hand or not known.by_hand)):
        return walls
    return put(walls, replace(known, offset_s=offset_of(at), by_hand=at.by_hand, since=at, by=""))


def put(walls: tuple[BootWall, ...], wall: BootWall) -> tuple[BootWall, ...]:
    """With this in the place of what was known of its boot."""
    return tuple(wall if other.boot_id == wall.boot_id else other for other in walls)


def sure_s(walls: tuple[BootWall, ...], at: Moment) -> tuple[float, bool] | None:
    """Seconds since 1970 of a moment, and whether by a hand; None when its boot never learned the time."""
    known = wall_of(walls, at.boot_id)
    if known is not None and known.offset_s is not None:
        return known.offset_s + at.boot_s, known.by_hand
    return (at.wall.timestamp(), at.by_hand) if at.trusted else None


def reckoned(walls: tuple[BootWall, ...], outage: Outage) -> tuple[float, HowKnown] | None:
    """The length of a power cut in seconds by the walls on both its sides; None while one is unknown or they clash."""
    before, after = sure_s(walls, outage.last_seen), sure_s(walls, outage.back)
    if before is None or after is None or after[0] < before[0]:
        return None
    return after[0] - before[0], HowKnown.SET if before[1] or after[1] else HowKnown.HEARD
