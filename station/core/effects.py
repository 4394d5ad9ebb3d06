"""Effects: all that may go out of the bench. Orders, performed by the loop in one place."""

from __future__ import annotations

from dataclasses import dataclass

from station.core.cues import Cue
from station.core.events import Event
from station.core.trace import Points


@dataclass(frozen=True, slots=True)
class Record:
    """Write this down before anything else is made known."""

    event: Event


@dataclass(frozen=True, slots=True)
class Say:
    """Sound `cue` once. `words` go to the page and, where it is fitted, to the voice."""

    cue: Cue
    words: str


@dataclass(frozen=True, slots=True)
class KeepTrace:
    """Keep the weighing trace of one step: (seconds since its start, gross in mg), already thinned out."""

    number: int
    step: int
    points: Points


@dataclass(frozen=True, slots=True)
class KeepTime:
    """From now on the wall clock of this boot is `offset_s` seconds since 1970 (UTC) at its boot-time zero, by hand."""

    offset_s: float


Effect = Record | Say | KeepTrace | KeepTime
