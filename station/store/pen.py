"""The pen: one thread that does what it is handed, in order, and how long anybody waits for it.

Whoever writes waits for the disk only so long. Once a write has taken longer, nobody waits any more: what is handed in
is begun and its answer looked at later, until one has come back in time. So a disk that is always slow holds the bench
up once, and not at each of its turns.
"""

from __future__ import annotations

import queue
import threading
from collections.abc import Callable
from concurrent.futures import Future, wait
from typing import Final, TypeVar

from station.errors import LedgerFault, SlowDisk
from station.texts import t

Answer = TypeVar("Answer")

PATIENCE_S: Final = 0.5
"""How long a write may hold up the bench. Cards have pauses of tenths of a second in the best of health."""
LAST_S: Final = 5.0
"""How long the end may wait for a disk that does not answer."""


class Pen:
    """A thread named "record". `ticks` are seconds of a clock that never runs back."""

    def __init__(self, patience_s: float, ticks: Callable[[], float]) -> None:
        self._patience_s, self._ticks = patience_s, ticks
        self._jobs: queue.SimpleQueue[Callable[[], None] | None] = queue.SimpleQueue()
        self._pending: Future[object] | None = None
        self._slow = threading.Event()
        self._thread = threading.Thread(target=self._work, name="record", daemon=True)
        self._thread.start()

    @property
    def slow(self) -> bool:
        """Whether the last write that was heard of overran the patience. From any thread."""
        return self._slow.is_set()

    def call(self, job: Callable[[], Answer]) -> Answer:
        """Have it done and wait for its answer, however long it takes. Raises what it raises, and LedgerFault."""
        return self._handed(job).result()

    def offer(self, job: Callable[[], Answer]) -> Future[Answer]:
        """Have it done; its answer is there already, unless the disk is slow: ask the future.

        Raises SlowDisk when something is still being done: then this was not even begun. Raises LedgerFault.
        """
        if self._pending is not None and not self._pending.done():
            raise SlowDisk(t("The disk is slow."))
        answer = self._handed(lambda: self._timed(job))
        if not self._slow.is_set():
            wait((answer,), self._patience_s)
            if not answer.done():
                self._slow.set()
        return answer

    def leave(self, job: Callable[[], None]) -> None:
        """Have it done some time; nobody asks what came of it."""
        self._jobs.put(job)

    def end(self, last: Callable[[], None]) -> None:
        """Finish what is begun and then `last`, as far as the disk lets us."""
        self._jobs.put(last)
        self._jobs.put(None)
        self._thread.join(LAST_S)

    def _handed(self, job: Callable[[], Answer]) -> Future[Answer]:
        if not self._thread.is_alive():
            # Nobody would ever answer. What it died of is told by its own thread, and must not be hidden by this.
            raise LedgerFault(t("What writes the record has stopped."), t("The station starts afresh by itself."))
        answer: Future[Answer] = Future()

        def run() -> None:
            try:
                answer.set_result(job())
            except BaseException as why:  # whoever asked shall have it, be it a fault or a bug
                answer.set_exception(why)

        self._pending = answer  # type: ignore[assignment]  # only asked whether it is done
        self._jobs.put(run)
        return answer

    def _timed(self, job: Callable[[], Answer]) -> Answer:
        began_s = self._ticks()
        try:
            return job()
        finally:
            in_time = self._ticks() - began_s <= self._patience_s
            (self._slow.clear if in_time else self._slow.set)()

    def _work(self) -> None:
        while (job := self._jobs.get()) is not None:
            job()
