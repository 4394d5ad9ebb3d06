"""The service as it is, with a stopwatch at its buzzer, a clock that can leap, and a disk that can be made slow.

    python -m tests.benchmarks.probe SETTINGS AHEAD_S

Takes orders on stdin and tells on stdout, a line of JSON each: see `Orders` and `Stopwatch`. AHEAD_S is how far the
clock has leapt already, for a station that comes back.
"""

from __future__ import annotations

import json
import logging
import os
import queue
import sys
import threading
import time
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

from station import service
from station.app import Station
from station.clock import SystemClock
from station.core import messages as msg
from station.core.alarms import next_due_s
from station.core.cues import Cue, Urgency
from station.core.moment import Moment
from station.core.steps import Weigh
from station.loop import Loop
from station.settings import read_settings
from station.signals.panel import Panel
from station.store.ledger import SqlLedger
from tests.benchmarks.loads import LOADS, Load
from tests.benchmarks.timed_wire import TimedWire, bare_pin_s

SHORT_OF_S = 1.5
BUZZER = 17


class LeapingClock(SystemClock):
    """The machine's clock, moved on by `ahead_s`."""

    def __init__(self, ahead_s: float) -> None:
        super().__init__()
        self.ahead_s = ahead_s

    def now(self) -> Moment:
        now = super().now()
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


class Orders:
    """What the benchmark asks of the station from inside, each by its method's name."""

    def __init__(self, watch: Stopwatch, station: Station) -> None:
        self.watch, self.station = watch, station
        self.wire: TimedWire | None = None
        self.load: Load | None = None

    def obey(self) -> None:
        for line in sys.stdin:
            order, *given = json.loads(line)
            self.watch.lines.put({"did": order, "result": getattr(self, order)(*given)})

    def begin(self) -> int | None:
        plan = self.station.library.plan("example-silicone", "paddle-grip", "220 g", {}, "benchmark")
        return self.station.inbox.ask(plan).result(60)

    def press(self) -> int | None:
        return self.station.inbox.ask(msg.Pressed(msg.Press.SHORT, "pedal")).result(60)

    def abort(self, number: int) -> int | None:
        return self.station.inbox.ask(msg.Abort(number, "benchmark", "benchmark")).result(60)

    def leap(self) -> float:
        """To shortly before the next clock is due. How far the clock is ahead."""
        due = next_due_s(self.station.loop.standing(), self.watch.clock.now())
        self.watch.clock.ahead_s += max(0.0, (due or 0.0) - SHORT_OF_S)
        return self.watch.clock.ahead_s

    def slow(self, seconds: float) -> None:
        """From now on each write to the record takes longer by this."""
        write, beat = SqlLedger.write, SqlLedger.heartbeat

        def written(ledger: SqlLedger, *given: Any) -> Any:
            time.sleep(seconds)
            return write(ledger, *given)

        def beaten(ledger: SqlLedger, at: Moment) -> None:
            time.sleep(seconds)
            beat(ledger, at)

        SqlLedger.write, SqlLedger.heartbeat = written, beaten  # type: ignore[method-assign]

    def flood(self, messages: int) -> None:
        """From now on the inbox never holds less than this."""

        def pour() -> None:
            inbox = self.station.inbox
            while True:
                for _ in range(messages - inbox._queue.qsize()):
                    inbox.post(msg.Tick())
                time.sleep(0.002)

        threading.Thread(target=pour, name="ThreadPoolExecutor, of the benchmark", daemon=True).start()

    def timed(self) -> float:
        """From now on readings and the buzzer's pin are noted; seconds of a bare call of the pin."""
        bare = bare_pin_s(self.station, BUZZER)
        self.wire = TimedWire()
        self.wire.watch(self.station, BUZZER)
        return bare

    def mark(self, every_mg: int) -> None:
        """From now on each load that is a multiple of this calls for a cue."""
        assert self.wire is not None
        self.wire.every_mg = every_mg

    def noted(self) -> dict[str, Any]:
        """What was noted since the last call."""
        assert self.wire is not None
        return self.wire.taken()

    def busy(self, what: str, place: str) -> None:
        """From now on the station does this again and again."""
        self.load = LOADS[what](self.station, place)

    def calm(self) -> int:
        """No more of it; how many rounds it came to."""
        load, self.load = self.load, None
        return 0 if load is None else load.end()

    def where(self) -> tuple[str, float]:
        """The present step, and in a weighing its target in grams."""
        cast = self.station.loop.standing().bench
        if cast is None:
            return "", 0.0
        return type(cast.step).__name__, cast.step.target.mg / 1000 if isinstance(cast.step, Weigh) else 0.0


def main(settings: Path, ahead_s: float) -> None:
    logging.basicConfig(level=logging.WARNING)
    clock = LeapingClock(ahead_s)
    watch, run = Stopwatch(clock), service._run

    def running(station: Station, *others: Any) -> None:
        orders = Orders(watch, station)
        threading.Thread(target=orders.obey, name="ThreadPoolExecutor, of the benchmark", daemon=True).start()
        watch.lines.put({"did": "start", "result": station.url})
        run(station, *others)

    service._run = running
    service.serve(read_settings(settings), clock, os.environ)


if __name__ == "__main__":
    main(Path(sys.argv[1]), float(sys.argv[2]))
