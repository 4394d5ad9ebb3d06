"""What the loop and the pages need of the world, as Protocols; adapters do not inherit from them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Protocol

from station.core.cues import Cue, Urgency
from station.core.effects import KeepTrace
from station.core.events import Entry
from station.core.moment import Moment
from station.core.standing import Standing


class TimeSource(Protocol):
    """The present moment. No other module reads the time."""

    def now(self) -> Moment:
        """This instant."""
        ...


class TellableClock(TimeSource, Protocol):
    """A clock to which a person may tell the time where no time service does."""

    def told(self, offset_s: float) -> None:
        """From now on the wall is `offset_s` + boot-time seconds since 1970, until there is better evidence."""
        ...


class Ledger(Protocol):
    """The only writer of the record. Every call comes from the loop's thread."""

    def write(self, entries: Sequence[Entry], traces: Sequence[KeepTrace] = ()) -> object:
        """All of them or none, on disk before it returns. Raises LedgerFault."""
        ...

    def heartbeat(self, at: Moment) -> None:
        """Keep `at` as evidence that the station ran until then. Raises LedgerFault."""
        ...

    def last_seen(self) -> Moment | None:
        """The latest moment for which there is evidence; None for a new record."""
        ...

    def standing(self, told: Callable[[int], object] = ..., /) -> Standing:
        """What the journal folds to; `told` hears now and then how many rows are read. Raises LedgerFault."""
        ...

    def keep_standing(self, standing: Standing) -> None:
        """A shortcut for the next start: what the journal, as written so far, folds to. Raises LedgerFault."""
        ...


class Signals(Protocol):
    """Buzzer, lamps and voice. No call blocks; none raises for a device that fails."""

    def cue(self, cue: Cue, words: str) -> None:
        """Sound a cue once."""
        ...

    def hold(self, urgency: Urgency) -> None:
        """Sound the alarm of this urgency until told otherwise; CALM is silence. Called after every message."""
        ...

    def pace(self, pace: float | None) -> None:
        """Slow the pouring hand: 0 as it likes, 1 the thinnest stream; None: no pour is led. Called like `hold`."""
        ...

    def lamps(self, ready: bool, busy: bool, attention: bool) -> None:
        """The three lamps: something to do now, a clock runs, something is wrong."""
        ...
