"""The pusher: the thread that sends messages. Nothing of the station waits for it, and it waits for no target.

A turn: what came of the attempts under way, what is true now, which letters that makes, and new attempts. Each attempt
is a process of its own that is ended when it takes too long.
"""

from __future__ import annotations

import contextlib
import logging
import os
import select
import threading
from collections import deque
from collections.abc import Callable
from concurrent.futures import Future
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Final, Self

from station.addresses import Address
from station.core.matters import Matter
from station.core.moment import Moment
from station.errors import Refused
from station.ports import TimeSource
from station.push.attempt import LIMIT_S, Attempt
from station.push.chooser import Chooser
from station.push.outbox import Letter, Letters, Stage, begun, come_back, looked_through, next_due
from station.push.said import Said
from station.push.signs import Signs, fault_matters, remembered, watched
from station.push.verdict import Kind, Verdict
from station.texts import N_, t

log = logging.getLogger("tarebell.push")

LOOK_S: Final = 1.0
IDLE_S: Final = 5.0
AT_ONCE: Final = 2
"""Attempts at a time: each takes some fifty megabytes while it lasts."""
TESTS_WAITING: Final = 4
END_WITHIN_S: Final = 2.0
TEST_WORDS: Final = N_("This is a test. Messages of this station arrive here.")


@dataclass(frozen=True, slots=True)
class Source:
    """Where the pusher learns what is true: alarms that sound, and signs of a fault. Neither waits."""

    alarms: Callable[[], tuple[Matter, ...]]
    signs: Callable[[], Signs]


@dataclass(frozen=True, slots=True)
class _Flight:
    """An attempt under way, until it is ended at boot time `until_s`: a letter, or a test with who waits for it."""

    to: Address
    attempt: Attempt
    until_s: float
    letter: Letter | None = None
    waiting: Future[Verdict] | None = None


class Pusher:
    """Sends what the source tells, as the chooser says. `turn` is what its thread does again and again."""

    def __init__(
        self,
        *,
        chooser: Chooser,
        source: Source,
        clock: TimeSource,
        title: str,
        folder: Path,
        note: Callable[[str], None],
    ) -> None:
        """`note` is told a lasting sentence when the last message got through to nobody, and nothing afterwards."""
        self._chooser, self._source, self._clock, self._title = chooser, source, clock, title
        self.said = Said(folder, note)
        self._letters: Letters = self.said.done
        self._lasting = remembered((one.matter for one in self._letters), clock.now().boot_s)
        self._flights: list[_Flight] = []
        self._tests: deque[tuple[Address, Future[Verdict]]] = deque()
        self._lock = threading.Lock()
        self._ending = threading.Event()
        self._bell: int | None = os.eventfd(0, os.EFD_NONBLOCK | os.EFD_CLOEXEC)
        # A daemon: whatever hangs here must not keep the station from stopping.
        self._thread = threading.Thread(target=self._live, name="push", daemon=True)

    @property
    def letters(self) -> Letters:
        """The outbox as it is now."""
        return self._letters

    def wake(self) -> None:
        """Something has changed: look at once. From any thread."""
        with self._lock:
            if self._bell is not None:
                os.eventfd_write(self._bell, 1)

    def test(self, to: Address) -> Future[Verdict]:
        """Send a test message; the future holds what came of it. Raises Refused while too many wait."""
        with self._lock:
            if len(self._tests) >= TESTS_WAITING:
                raise Refused(t("Other tests are still under way."), t("Wait a little and try again."))
            future: Future[Verdict] = Future()
            self._tests.append((to, future))
        self.wake()
        return future

    def __enter__(self) -> Self:
        self._chooser.changed = self.wake
        self._thread.start()
        return self

    def __exit__(
        self, _kind: type[BaseException] | None, _bug: BaseException | None, _at: TracebackType | None
    ) -> None:
        self._ending.set()
        self.wake()
        self._thread.join(END_WITHIN_S)
        with self._lock:
            bell, self._bell = self._bell, None
            if bell is not None and not self._thread.is_alive():
                os.close(bell)

    def _live(self) -> None:
        try:
            while not self._ending.is_set():
                self.turn()
                self._wait()
        finally:
            self.close()

    def close(self) -> None:
        """End what is under way."""
        for flight in self._flights:
            flight.attempt.end()
        for waiting in (*(one.waiting for one in self._flights), *(future for _, future in self._tests)):
            if waiting is not None:
                waiting.set_result(Verdict(Kind.BROKEN))
        self._flights, self._tests = [], deque()

    def turn(self) -> None:
        """Look once, and send what is to be sent."""
        now, choices = self._clock.now(), self._chooser.now()
        self._land(now)
        signs = self._source.signs()
        self._lasting = watched(self._lasting, signs, now.boot_s)
        matters = (*self._source.alarms(), *fault_matters(self._lasting, signs))
        to = {address.key: address for address in choices.addresses}
        self._letters = looked_through(self._letters, matters, choices.occasions, tuple(to), now.boot_s)
        self._start_tests(now)
        words = {matter.key: matter.words for matter in matters}
        quiet = self._chooser.quiet(now)
        while len(self._flights) < AT_ONCE:
            letter = next_due(self._letters, matters, now.boot_s, quiet=quiet)
            if letter is None:
                break
            self._letters = begun(self._letters, letter)
            attempt = Attempt(to[letter.to].url, self._title, words[letter.matter])
            self._flights.append(_Flight(to[letter.to], attempt, now.boot_s + LIMIT_S, letter))
        self.said.look(self._letters, words, to)

    def _start_tests(self, now: Moment) -> None:
        with self._lock:
            tests, self._tests = list(self._tests), deque()
        for to, waiting in tests:
            attempt = Attempt(to.url, self._title, t(TEST_WORDS))
            self._flights.append(_Flight(to, attempt, now.boot_s + LIMIT_S, waiting=waiting))

    def _land(self, now: Moment) -> None:
        """Take in what came of the attempts; end those that take too long."""
        still: list[_Flight] = []
        for flight in self._flights:
            verdict = flight.attempt.heard()
            if verdict is None and now.boot_s < flight.until_s:
                still.append(flight)
                continue
            if verdict is None:
                flight.attempt.end()
                verdict = Verdict(Kind.LATE)
            self._landed(flight, verdict, now)
        self._flights = still

    def _landed(self, flight: _Flight, verdict: Verdict, now: Moment) -> None:
        # Told by the key, not the address: a log is read by many.
        log.info("message to=%s came of it=%s code=%s", flight.to.key, verdict.kind.name, verdict.code)
        self.said.came_of(flight.to.key, verdict, now)
        if flight.letter is not None:
            under_way = next(
                (one for one in self._letters if one.stage is Stage.UNDER_WAY and one.to == flight.letter.to), None
            )
            if under_way is not None:
                self._letters = come_back(self._letters, under_way, taken=verdict.good, now_s=now.boot_s)
        if flight.waiting is not None:
            flight.waiting.set_result(verdict)

    def _wait(self) -> None:
        """Until an attempt has something to say, somebody rings, or it is time to look again."""
        poll = select.poll()
        for number in (self._bell, *(flight.attempt.fileno() for flight in self._flights)):
            if number is not None:
                poll.register(number, select.POLLIN)
        poll.poll(1000 * (LOOK_S if self._chooser.now().addresses or self._flights else IDLE_S))
        if self._bell is not None:
            with contextlib.suppress(BlockingIOError):
                os.eventfd_read(self._bell)
