"""ScaleDesk: what the page needs for finding and checking the scale; implemented where the port may be touched."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import Enum
from typing import Protocol

from station.texts import N_


@dataclass(frozen=True, slots=True)
class PortChoice:
    """A port to search: the name that lasts, a line about it, and a warning where its name may not last."""

    name: str
    words: str
    note: str = ""


class Asks(Enum):
    """What kind of answer an errand waits for."""

    NOTHING = "nothing"
    YES_NO = N_("yes or no")
    TEXT = "text"


@dataclass(frozen=True, slots=True)
class ErrandView:
    """A search or a check under way or just ended: what was said so far, the open question, how it ended.

    `good` is None while it runs. The first line of `outcome` says it all in short.
    """

    title: str
    told: tuple[str, ...]
    question: str = ""
    asks: Asks = Asks.NOTHING
    good: bool | None = None
    outcome: str = ""


@dataclass(frozen=True, slots=True)
class CheckView:
    """One scale check. Masses in grams; None for what was not tested. `error_g` is at the check weight."""

    on: date
    due: date
    verdict: str
    reasons: tuple[str, ...]
    scale: str
    temperature_c: float | None
    repeatability_g: float
    error_g: float | None
    drift_g_per_h: float | None


class ScaleDesk(Protocol):
    """Every call may raise a StationError, a sentence."""

    def in_use(self) -> str:
        """The scale that the station reads, in a line."""
        ...

    def ports(self) -> tuple[PortChoice, ...]:
        """The serial ports of the station."""
        ...

    def errand(self) -> ErrandView | None:
        """The errand under way or the last one; None when there was none."""
        ...

    def find(self, port: str) -> None:
        """Begin a search. Raises Refused while a cast is in hand or another errand runs."""
        ...

    def check(self) -> None:
        """Begin a scale check. Raises Refused like `find`."""
        ...

    def answer(self, text: str) -> None:
        """Answer the open question; "yes" and "no" where it asks for one. Raises Refused when none is open."""
        ...

    def leave(self) -> None:
        """Give the errand up; the station reads its scale again."""
        ...

    def checks(self) -> tuple[CheckView, ...]:
        """All checks, the newest first."""
        ...
