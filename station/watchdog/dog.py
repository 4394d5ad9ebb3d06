"""Watchdog: tells the service manager that the station makes progress, for as long as it does, and no longer.

A hang is ended twice over. The manager, once told nothing, ends the process and starts it afresh. Where there is no
manager, or it was not asked to watch, the process ends itself a little later: a bench that looks well and rings no
alarm is worse than one that is gone. Both print where every thread stood. The record needs no orderly end.
"""

from __future__ import annotations

import logging
import os
import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from station.ports import TimeSource
from station.texts import N_, Phrase, number, t
from station.watchdog.last_words import said, where_all_stand
from station.watchdog.notify import Notifier
from station.watchdog.pulse import Heard, Pulse, heard
from station.watchdog.threads import ThreadEnded, ended, lasting

LOOK_EVERY_S = 1.0
MOST_GONE_S = 2.0
"""What counts at most as gone by between two looks: while a laptop slept, nobody was silent."""
TOO_LONG_S = 18.0
"""Silence beyond what a pulse is allowed, after which the process ends itself: 30 s in all for the bench."""
CLOSING_S = 15.0
"""An end that takes longer hangs. The longest orderly step is a word that is being spoken, 12 s at most."""
READS_ON_S = 60
"""After a sign that the record is being read, the manager waits so long for the next one, or for the start's end."""
HUNG = 71
"""Exit code of a process that ended itself because it hung."""


@dataclass(slots=True)
class Running:
    """A station to watch: `end` ends its loop with a bug, `page_answers` asks its page, `words` say how it is.

    The manager is told in the station's language, the log in English.
    """

    pulses: Sequence[Pulse]
    end: Callable[[BaseException], object]
    page_answers: Callable[[], bool]
    words: str
    threads: tuple[threading.Thread, ...] = field(default_factory=lasting)


class Watchdog:
    """A thread of its own, from `start` to the end of the process. `leave` ends the process at once, with a code."""

    def __init__(self, told: Notifier, clock: TimeSource, leave: Callable[[int], object] = os._exit) -> None:
        self._told, self._clock, self._leave = told, clock, leave
        self._every_s = min(LOOK_EVERY_S, (told.within_s or LOOK_EVERY_S * 3) / 3)
        self._running: Running | None = None
        self._closing = threading.Event()
        self._closing_s = 0.0
        self._heard: dict[str, Heard] = {}
        self._beaten: set[str] = set()
        self._silent: tuple[str, ...] = ()
        self._ready = False
        self._dead: set[str] = set()
        self._looked_s = clock.now().boot_s
        self._stopping = threading.Event()
        # Also after the last line of the program: threads that nobody stopped would keep the process for ever.
        self._thread = threading.Thread(target=self._run, name="watchdog", daemon=True)

    def start(self) -> None:
        """Begin. Until there is something to watch, nothing is watched: a long record takes its time to be read."""
        self._thread.start()

    def reading(self, rows: int) -> None:
        """So many rows of the record are read: the start takes long, but it gets on. From any thread."""
        status = t("The record is being read: {rows} rows so far.", rows=number(rows, ",d"))
        self._told.send(f"EXTEND_TIMEOUT_USEC={READS_ON_S * 1_000_000}", f"STATUS={status}")

    def watch(self, running: Running) -> None:
        """From now on the pulses must beat and the threads must live."""
        self._running = running

    def closing(self) -> None:
        """The loop has ended, and the station must be closed in `CLOSING_S` seconds."""
        self._closing.set()
        self._told.send("STOPPING=1")

    def stop(self) -> None:
        """End the thread; returns when that is done. For those whose process goes on."""
        self._stopping.set()
        self._thread.join()

    def _run(self) -> None:
        while not self._stopping.wait(self._every_s):
            self.look()

    def look(self) -> None:
        """One look at everything, for the watchdog's own thread."""
        now_s = self._clock.now().boot_s
        gone_s, self._looked_s = min(now_s - self._looked_s, MOST_GONE_S), now_s
        if self._closing.is_set():
            self._closing_s += gone_s
            if self._closing_s > CLOSING_S:
                self._give_up(f"The station has not closed within {CLOSING_S:g} s.")
            self._told.send("WATCHDOG=1")
        elif self._running is not None:
            self._look_at_threads(self._running)
            self._look_at_pulses(self._running, gone_s)

    def _look_at_threads(self, running: Running) -> None:
        for thread in running.threads:
            if thread.name not in self._dead and ended(thread):
                self._dead.add(thread.name)
                running.end(ThreadEnded(thread.name))

    def _look_at_pulses(self, running: Running, gone_s: float) -> None:
        silent = []
        for pulse in running.pulses:
            beats = pulse.beats()
            before = self._heard.get(pulse.name, Heard(beats, 0.0))
            after = self._heard[pulse.name] = heard(before, beats, gone_s)
            if beats != before.beats:
                self._beaten.add(pulse.name)
            allowed_s = pulse.silence_s()
            if after.silent_s > allowed_s:
                silent.append(pulse.name)
            if after.silent_s > allowed_s + TOO_LONG_S:
                self._give_up(f"No sign of life from {pulse.name} for {after.silent_s:.0f} s.")
        self._tell(running, tuple(silent))

    def _tell(self, running: Running, silent: tuple[str, ...]) -> None:
        if silent != self._silent:
            self._silent = silent
            silence = _silence(silent)
            self._told.send(f"STATUS={silence.said() if silent else running.words}")
            if silent:
                said(logging.ERROR, f"{silence} The station is started afresh unless that changes.")
            else:
                said(logging.INFO, "All signs of life are back.")
        if silent:
            return
        if not self._ready:
            self._ready = len(self._beaten) == len(running.pulses) and running.page_answers()
            if self._ready:
                self._told.send("READY=1", f"STATUS={running.words}")
        if self._ready:
            self._told.send("WATCHDOG=1")

    def _give_up(self, why: str) -> None:
        said(logging.CRITICAL, f"{why} The process ends itself, so that it can be started afresh.")
        where_all_stand()
        self._leave(HUNG)


def _silence(names: Sequence[str]) -> Phrase:
    """That these pulses stand still."""
    what = Phrase("")
    for name in names:
        what = Phrase(N_("{those} and {name}"), those=what, name=Phrase(name)) if what else Phrase(name)
    return Phrase(N_("No sign of life from {what}."), what=what)
