"""Events about time itself: that it was heard or told, and how long the power was off. A part of `events`."""

from __future__ import annotations

from dataclasses import dataclass

from station.core.walls import HowKnown


@dataclass(frozen=True, slots=True)
class TimeHeard:
    """The wall clock became trusted in the middle of this boot: `offset_s` is 1970 to its boot-time zero (UTC).

    `shift_s` is by how much that moved a wall that had been set by hand; None when none had been.
    """

    offset_s: float
    shift_s: float | None = None


@dataclass(frozen=True, slots=True)
class TimeTold:
    """A person told the time: for this boot `offset_s` seconds lie between 1970 (UTC) and its boot-time zero."""

    offset_s: float
    by: str


@dataclass(frozen=True, slots=True)
class GapKnown:
    """The power cut before boot `boot_id` lasted `off_s`; None: somebody said that nobody knows."""

    boot_id: str
    off_s: float | None
    how: HowKnown
    by: str = ""
