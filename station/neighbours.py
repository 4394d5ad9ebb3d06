"""Neighbours: the one door between the shared log and this bench's pages. Frozen values out, wishes in."""

from __future__ import annotations

import threading
import uuid
from dataclasses import dataclass, replace
from datetime import datetime
from enum import Enum

from station.core.at_hand import AtHand
from station.core.clocks import ClockKind
from station.core.mass import Mass
from station.core.moment import Moment, gap_s
from station.errors import Refused
from station.ports import TimeSource
from station.texts import N_, t

SILENT_S = 90.0
"""A bench that says something every half minute and has not for this long is not heard from."""

WISH_LIVES_S = 3600.0
EXPIRED_SHOWN = 5


class ErrandState(Enum):
    """How far a wish to another bench has come. The value is that in words."""

    WAITING = N_("waits for the shared log")
    ASKED = N_("on its way to that bench")
    TAKEN = N_("arrived; no answer yet")
    DONE = N_("done")
    REFUSED = N_("refused there")
    EXPIRED = N_("expired")


OPEN = frozenset({ErrandState.WAITING, ErrandState.ASKED, ErrandState.TAKEN})


@dataclass(frozen=True, slots=True)
class Errand:
    """The wish that bench `to_bench` acknowledge one of its alarms; `words` is its answer. `by`: who wishes it."""

    key: str
    to_bench: int
    number: int
    clock: ClockKind
    by: str
    state: ErrandState = ErrandState.WAITING
    words: str = ""


@dataclass(frozen=True, slots=True)
class Neighbour:
    """Another bench. `age_s` before the log was read it told `at_hand`; `unclear` says why that is not to be had."""

    bench: int
    title: str
    age_s: float
    at_hand: AtHand
    unclear: str = ""


@dataclass(frozen=True, slots=True)
class SharedCast:
    """A cast of another bench; `begun` is UTC, `text` its whole batch record, `edition` rises with each change."""

    bench: int
    number: int
    begun: datetime
    sure: bool
    material: str
    mold: str
    total: Mass
    stage: str
    text: str
    edition: int = 0


@dataclass(frozen=True, slots=True)
class Neighbourhood:
    """The shared log as it was last read, at `read` (None: not yet). `trouble`: why it is not to be had now.

    `refused`: why it takes nothing from this bench.
    """

    bench: int
    read: Moment | None = None
    benches: tuple[Neighbour, ...] = ()
    casts: tuple[SharedCast, ...] = ()
    errands: tuple[Errand, ...] = ()
    trouble: str = ""
    refused: str = ""


class Neighbours:
    """One writer (the exchange with the shared log), any number of readers and of people with wishes."""

    def __init__(self, bench: int, clock: TimeSource) -> None:
        self._clock = clock
        self._lock = threading.Lock()
        self._latest = Neighbourhood(bench)
        self._waiting: tuple[tuple[Errand, Moment], ...] = ()
        self._expired: tuple[Errand, ...] = ()
        self.wished = threading.Event()
        """Set when somebody has wished something: for the exchange, which clears it."""

    def latest(self) -> Neighbourhood:
        """The latest value, wishes that never left included."""
        with self._lock:
            return replace(self._latest, errands=self._all())

    def _all(self) -> tuple[Errand, ...]:
        return (*(wish for wish, _ in self._waiting), *self._latest.errands, *self._expired)

    def post(self, value: Neighbourhood) -> None:
        """Replace the value; wishes that it shows as arrived no longer wait here."""
        with self._lock:
            arrived = {errand.key for errand in value.errands}
            self._waiting = tuple(one for one in self._waiting if one[0].key not in arrived)
            self._latest = value

    def away(self, trouble: str) -> None:
        """The shared log is not to be had; what it said last stays. Wishes that wait too long expire."""
        now = self._clock.now()
        with self._lock:
            old = tuple(wish for wish, at in self._waiting if (gap_s(at, now) or 0.0) > WISH_LIVES_S)
            self._waiting = tuple(one for one in self._waiting if one[0] not in old)
            words = t("The shared log was away for an hour. If the alarm still sounds, go there.")
            gone = tuple(replace(wish, state=ErrandState.EXPIRED, words=words) for wish in old)
            self._expired = (*gone, *self._expired)[:EXPIRED_SHOWN]
            self._latest = replace(self._latest, trouble=trouble)

    def waiting(self) -> tuple[Errand, ...]:
        """Wishes that the shared log has not taken yet, oldest first."""
        with self._lock:
            return tuple(wish for wish, _ in self._waiting)

    def wish(self, to_bench: int, number: int, clock: ClockKind, by: str) -> None:
        """Wish that another bench acknowledge an alarm; a wish that is on its way already is not repeated.

        Raises Refused when nobody could carry it now, or there is no such bench or alarm.
        """
        with self._lock:
            now = self._latest
            if now.trouble or now.refused or now.read is None:
                raise Refused(
                    t("The shared log is not to be had now."),
                    t("Go to bench {bench}: its alarm sounds on.", bench=to_bench),
                )
            bench = next((one for one in now.benches if one.bench == to_bench), None)
            if bench is None:
                raise Refused(t("There is no other bench {bench} in the shared log.", bench=to_bench))
            if not any((alarm.number, alarm.clock) == (number, clock) for alarm in bench.at_hand.alarms):
                raise Refused(
                    t(
                        "No {kind} alarm of cast {number} sounds at bench {bench}.",
                        kind=t(clock.value),
                        number=number,
                        bench=to_bench,
                    )
                )
            about = (to_bench, number, clock)
            if not any((e.to_bench, e.number, e.clock) == about and e.state in OPEN for e in self._all()):
                wish = Errand(str(uuid.uuid4()), to_bench, number, clock, by)
                self._waiting += ((wish, self._clock.now()),)
        self.wished.set()
