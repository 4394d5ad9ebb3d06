"""The probed station's stopwatch at its buzzer, and a clock that can leap."""

from __future__ import annotations

import json
import queue
import sys
import threading
import time
from dataclasses import replace
from datetime import timedelta
from typing import Any

from station.clock import SystemClock
from station.core.alarms import next_due_s
from station.core.cues import Cue, Urgency
from station.core.moment import Moment
from station.loop import Loop
from station.signals.panel import Panel


class LeapingClock(SystemClock):
    """The machine's clock, moved on by `ahead_s`."""

    def __init__(self, ahead_s: float) -> None:
        super().__init__()
        self.ahead_s = ahead_s

    def now(self) -> Moment:
        now = super().now()
        if not self.ahead_s:  # what is measured is then the station's own clock, and nothing of this one
            return now
        return replace(now, boot_s=now.boot_s + self.ahead_s, wall=now.wall + timedelta(seconds=self.ahead_s))


class Stopwatch:
    """Tells of each cue and each change of the alarm how long ago that came about which calls for it.

    That is the moment at which a line of the scale was read or a command handed in; for clocks the time they are due.
    """

    def __init__(self, clock: LeapingClock) -> None:
        self.clock, self.lines = clock, queue.SimpleQueue[dict[str, Any]]()
        self.at_s = self.due_s = 0.0
        self.writes = False
        self.urgency = Urgency.CALM
        self._patch()
        threading.Thread(target=self._print, name="ThreadPoolExecutor, of the benchmark", daemon=True).start()

    def _print(self) -> None:
        while True:
            sys.stdout.write(json.dumps(self.lines.get()) + "\n")
            sys.stdout.flush()

    def _sounded(self, what: str, since_s: float) -> None:
        took_s = self.clock.now().boot_s - since_s
        self.lines.put({"cue": what, "took_s": took_s, "writes": self.writes, "mono_s": time.monotonic()})

    def _patch(self) -> None:
        handle, patience, write = Loop.handle, Loop._patience_s, Loop._write_down
        cue, hold = Panel.cue, Panel.hold

        def handled(loop: Loop, envelope: Any) -> None:
            self.at_s = envelope.at.boot_s
            handle(loop, envelope)

        def patient(loop: Loop) -> float:
            now = self.clock.now()
            due = next_due_s(loop.standing(), now)
            self.due_s = self.due_s if due is None or due <= 0 else now.boot_s + due
            return patience(loop)

        def written(loop: Loop, entries: Any, traces: Any, now: Moment, at_once: bool = False) -> bool:
            self.writes = bool(entries)
            return write(loop, entries, traces, now, at_once)

        def cued(panel: Panel, which: Cue, words: str) -> None:
            cue(panel, which, words)
            self._sounded(which.name, self.due_s if which is Cue.MIX_ENOUGH else self.at_s)

        def held(panel: Panel, urgency: Urgency) -> None:
            hold(panel, urgency)
            if urgency is not self.urgency:
                self.urgency = urgency
                if urgency is not Urgency.CALM:
                    self._sounded("ALARM", self.due_s)

        Loop.handle, Loop._patience_s, Loop._write_down = handled, patient, written  # type: ignore[method-assign]
        Panel.cue, Panel.hold = cued, held  # type: ignore[method-assign]
