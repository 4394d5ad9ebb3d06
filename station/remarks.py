"""When something was, and what was said then: what every record of the past is made of."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class When:
    """A wall time (UTC) to show; not `sure` when the clock of that boot was never trusted."""

    wall: datetime
    sure: bool


@dataclass(frozen=True, slots=True)
class RemarkRecord:
    """Something said or noted at a time: a remark, an overshoot and its rescue, a pause."""

    at: When
    words: str
    by: str = ""
