"""Moment: one instant as this station knows it.

A Pi has no battery clock, so an instant carries two faces. Within one boot the boot-time seconds
(CLOCK_BOOTTIME) count and nothing else; across boots only the wall clock is left, and only if it was
trusted on both sides.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime


@dataclass(frozen=True, slots=True)
class Moment:
    """An instant: seconds since this boot began, which boot, the wall time (UTC) and whether to trust it.

    `by_hand`: it is trusted because a person told this station the time, not because a time service was heard.
    """

    boot_s: float
    boot_id: str
    wall: datetime
    trusted: bool
    by_hand: bool = False

    def __post_init__(self) -> None:
        if self.wall.tzinfo is not UTC and (self.wall.tzinfo is None or self.wall.utcoffset() != UTC.utcoffset(None)):
            raise ValueError("a moment's wall time must be an aware datetime in UTC")
        if self.by_hand and not self.trusted:
            raise ValueError("a wall time that was set by hand is a trusted one")


def gap_s(earlier: Moment, later: Moment) -> float | None:
    """Seconds from `earlier` to `later`; None when they are unknown.

    Unknown means: other boots and a wall clock that was not trusted on both sides, or that runs backwards
    from one boot to the next. Each caller then takes its own safe side: a maximum (pot life) counts the
    gap as used up, a minimum (cure) counts it as nothing.
    """
    if earlier.boot_id == later.boot_id:
        return later.boot_s - earlier.boot_s
    if not (earlier.trusted and later.trusted):
        return None
    gap = (later.wall - earlier.wall).total_seconds()
    return gap if gap >= 0 else None
