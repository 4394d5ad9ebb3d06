"""What the page of the messages is given: addresses and how they fare, occasions, quiet hours; and what it may do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol

from station.core.matters import Occasion
from station.core.quiet import QuietHours


@dataclass(frozen=True, slots=True)
class AddressLine:
    """One address by its key and label, never itself; `fixed`: it stands in the settings file.

    `waiting` messages are not sent yet, `given_up` were given up. `good` and `bad` say when (UTC) it last took a
    message and last did not, `why` not; `good_sure` and `bad_sure` whether the clock was trusted then.
    """

    key: str
    label: str
    fixed: bool = False
    waiting: int = 0
    given_up: int = 0
    good: datetime | None = None
    good_sure: bool = True
    bad: datetime | None = None
    bad_sure: bool = True
    why: str = ""


@dataclass(frozen=True, slots=True)
class PushView:
    """How the messages fare. `quiet_now`: they are held. `trouble`: why what was chosen could not be read, or empty."""

    addresses: Sequence[AddressLine]
    occasions: frozenset[Occasion]
    quiet: QuietHours | None
    quiet_now: bool
    time_known: bool
    trouble: str = ""


@dataclass(frozen=True, slots=True)
class Tried:
    """What came of a test message, in a sentence."""

    good: bool
    words: str


class PushDesk(Protocol):
    """Called from many threads. Every refusal is a StationError, and none repeats an address."""

    def view(self) -> PushView:
        """How the messages fare now."""
        ...

    def add(self, url: str, by: str) -> None:
        """Send messages to this address too."""
        ...

    def remove(self, key: str, by: str) -> None:
        """Send none there any more."""
        ...

    def test(self, key: str, by: str) -> Tried:
        """Send a test message there and wait a little for what comes of it."""
        ...

    def choose(self, occasions: frozenset[Occasion], by: str) -> None:
        """From now on messages are sent on these occasions."""
        ...

    def be_quiet(self, hours: QuietHours | None, by: str) -> None:
        """From now on these are the quiet hours."""
        ...
