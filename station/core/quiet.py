"""Quiet hours: a stretch of the day in which nothing is spoken and no message is sent. The buzzer knows none."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import tzinfo

from station.core.moment import Moment

DAY_MIN = 24 * 60


@dataclass(frozen=True, slots=True)
class QuietHours:
    """From `begin` to `end`, both minutes after midnight at the bench; over midnight when `end` is the smaller.

    Raises ValueError when they are no two different minutes of a day.
    """

    begin: int
    end: int

    def __post_init__(self) -> None:
        if not (0 <= self.begin < DAY_MIN and 0 <= self.end < DAY_MIN) or self.begin == self.end:
            raise ValueError("quiet hours must begin and end at two different minutes of a day")

    def hold(self, minute: int) -> bool:
        """Whether they hold at this minute after midnight."""
        if self.begin < self.end:
            return self.begin <= minute < self.end
        return minute >= self.begin or minute < self.end


def quiet_at(hours: QuietHours | None, now: Moment, zone: tzinfo | None = None) -> bool:
    """Whether it is quiet at `now` by the clock on the wall there; never while the time of day is not known.

    When summer time begins or ends inside them, they still end at the time of day that was asked for, and so last an
    hour less or more. `zone` None: that of this machine.
    """
    if hours is None or not now.trusted:
        return False
    here = now.wall.astimezone(zone)
    return hours.hold(here.hour * 60 + here.minute)
