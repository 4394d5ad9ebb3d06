"""What a scale check may wish of the world: readings for a while, a line of text, and to tell. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from station.scale.finding.wishes import Tell


@dataclass(frozen=True, slots=True)
class Seen:
    """One reading: seconds of boot time, grams, the number as displayed."""

    at_s: float
    grams: Decimal
    shown: str


@dataclass(frozen=True, slots=True)
class Watch:
    """Answer with the readings of the next `seconds`, a tuple of `Seen`."""

    seconds: float


@dataclass(frozen=True, slots=True)
class AskText:
    """Ask for a line of text; the answer is the text, empty for nothing."""

    question: str


CourseWish = Tell | Watch | AskText
CourseAnswer = tuple[Seen, ...] | str | None
