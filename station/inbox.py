"""Inbox: the one door into the bench. Typed messages with the moment they were true, in one order."""

from __future__ import annotations

import queue
import threading
from concurrent.futures import Future
from dataclasses import dataclass

from station.core.messages import Command, Fact, Message, Tick
from station.core.moment import Moment
from station.ports import TimeSource


@dataclass(frozen=True, slots=True)
class Envelope:
    """A message, when it was true, and where its sender waits for an answer (the cast's number, or None)."""

    message: Message
    at: Moment
    answer: Future[int | None] | None = None


@dataclass(frozen=True, slots=True)
class End:
    """The loop shall end; `bug` is what another thread died of, None for an orderly stop."""

    bug: BaseException | None


class Inbox:
    """A queue with one consumer: the loop. Anybody may post."""

    def __init__(self, clock: TimeSource) -> None:
        self._clock = clock
        self._queue: queue.SimpleQueue[Envelope | End] = queue.SimpleQueue()

    def post(self, message: Fact, at: Moment | None = None) -> None:
        """Hand in a fact and go on at once."""
        self._queue.put(Envelope(message, at or self._clock.now()))

    def ask(self, command: Command) -> Future[int | None]:
        """Hand in a person's command; the future holds its answer, or `Refused`."""
        answer: Future[int | None] = Future()
        self._queue.put(Envelope(command, self._clock.now(), answer))
        return answer

    def end(self, bug: BaseException | None = None) -> None:
        """End the loop: an orderly stop, or because the thread that calls met something that is a bug."""
        if bug is not None:
            bug.add_note(f"Told by the thread {threading.current_thread().name!r}.")
        self._queue.put(End(bug))

    def next(self, heartbeat_s: float) -> Envelope | End:
        """The next message; a Tick when none came for `heartbeat_s`. For the loop alone."""
        try:
            return self._queue.get(timeout=max(0.0, heartbeat_s))
        except queue.Empty:
            return Envelope(Tick(), self._clock.now())
