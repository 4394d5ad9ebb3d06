"""What a benchmark can have the probed station do, or ask of it, from inside."""

from __future__ import annotations

import json
import sys
import threading
import time
from typing import Any

from station.app import Station
from station.core import messages as msg
from station.core.alarms import next_due_s
from station.core.clocks import ClockKind
from station.core.moment import Moment
from station.core.steps import Weigh
from station.store.ledger import SqlLedger
from tests.benchmarks.loads import LOADS, Load
from tests.benchmarks.stopwatch import Stopwatch
from tests.benchmarks.timed_wire import TimedWire, bare_pin_s

SHORT_OF_S = 1.5
BUZZER = 17


class Orders:
    """What the benchmark asks of the station from inside, each by its method's name."""

    def __init__(self, watch: Stopwatch, station: Station) -> None:
        self.watch, self.station = watch, station
        self.wire: TimedWire | None = None
        self.load: Load | None = None
        self.committed: list[list[str]] | None = None

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

    def answer(self, number: int) -> None:
        """Answer whatever sounds of this cast: acknowledged, and out of the mold when it is time for that."""
        for alarm in self.station.board.latest().alarms:  # type: ignore[union-attr]
            if alarm.number == number:
                demold = alarm.clock is ClockKind.DEMOLD
                answer = msg.Demold(number, "page") if demold else msg.Acknowledge(number, alarm.clock, "page")
                self.station.inbox.ask(answer).result(60)

    def answer_all(self) -> None:
        """Acknowledge whatever sounds."""
        for alarm in self.station.board.latest().alarms:  # type: ignore[union-attr]
            self.station.inbox.ask(msg.Acknowledge(alarm.number, alarm.clock, "page")).result(60)

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

    def commits(self) -> list[list[str]]:
        """What the record was given since this was last asked: for each commit the kinds of its entries."""
        if self.committed is None:
            self._count_commits()
        found, self.committed = self.committed, []
        return found or []

    def _count_commits(self) -> None:
        self.committed = []
        write, beat = SqlLedger.write, SqlLedger.heartbeat

        def written(ledger: SqlLedger, entries: Any, traces: Any = ()) -> Any:
            self.committed.append([type(entry.event).__name__ for entry in entries])  # type: ignore[union-attr]
            return write(ledger, entries, traces)

        def beaten(ledger: SqlLedger, at: Moment) -> None:
            self.committed.append(["heartbeat"])  # type: ignore[union-attr]
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
