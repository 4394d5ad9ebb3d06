"""A bench that shares a log, worked step by step: its loop, its record and its exchange, and no thread of its own."""

from __future__ import annotations

from concurrent.futures import Future
from pathlib import Path

from station.benches.exchange import Exchange
from station.benches.identity import Own, station_id
from station.benches.server import Server
from station.board import Board
from station.core import messages as msg
from station.core.clocks import ClockKind
from station.core.lanes import Lane
from station.core.mass import Mass
from station.core.planning import planned
from station.inbox import Envelope, Inbox
from station.loop import Loop
from station.neighbours import Neighbour, Neighbourhood, Neighbours
from station.sharing import RecordFeed
from station.store.ledger import SqlLedger
from station.testing import RecordingSignals, ScriptedClock
from tests.play import CARD, GRIP, PLACE, SILICONE


class Stand:
    """`url` is where it finds the shared log; two stands with the same folder are two lives of one station."""

    def __init__(self, folder: Path, url: str, bench: int) -> None:
        self.clock, self.board, self.signals = ScriptedClock(), Board(), RecordingSignals()
        self.ledger = SqlLedger(folder)
        self.feed = RecordFeed(self.ledger.place)
        self.inbox = Inbox(self.clock)
        self.neighbours = Neighbours(bench, self.clock)
        self.loop = Loop(
            clock=self.clock,
            ledger=self.ledger,
            signals=self.signals,
            inbox=self.inbox,
            board=self.board,
            card=CARD,
            version="test",
            lane=Lane(bench),
        )
        self.loop.start()
        self.handed: list[msg.Acknowledge] = []
        self.server = Server(url, connect_s=2)
        self.exchange = Exchange(
            server=self.server,
            own=Own(bench, station_id(folder), f"Bench {bench}"),
            feed=self.feed,
            neighbours=self.neighbours,
            clock=self.clock,
            seen=self.board.latest,
            hand=self._hand,
        )

    def _hand(self, command: msg.Acknowledge) -> Future[int | None]:
        self.handed.append(command)
        answer = self.inbox.ask(command)
        self.loop.handle(self.inbox.next(0))  # type: ignore[arg-type]
        return answer

    def send(self, message: msg.Message) -> None:
        self.loop.handle(Envelope(message, self.clock.now()))

    def stand(self, grams: float, seconds: float = 2.5) -> None:
        for _ in range(round(seconds * 10)):
            self.clock.advance(0.1)
            self.send(msg.Reading(Mass.nearest(grams), msg.Stability.STABLE))

    def press(self) -> None:
        self.send(msg.Pressed(msg.Press.SHORT, "pedal"))

    def begin(self) -> None:
        self.send(msg.ScaleFound("test"))
        self.stand(0, 1)
        plan = planned(SILICONE, GRIP, Mass.grams(220), place=PLACE, standing=self.loop.standing())
        self.send(msg.BeginCast(plan, "test"))

    def weigh(self) -> None:
        self.stand(24.3)
        self.stand(224.3, 4)
        self.press()
        self.stand(234.3, 2)
        self.stand(244.3, 4)

    def mix_and_pour(self) -> None:
        self.wait(181)
        self.press()
        self.press()
        self.stand(0, 1)
        self.press()  # the emptied cup is not weighed

    def cast(self) -> None:
        self.begin()
        self.weigh()
        self.mix_and_pour()

    def wait(self, seconds: float) -> None:
        self.clock.advance(seconds)
        self.send(msg.Tick())

    def until_demold_sounds(self) -> None:
        self.wait(4 * 3600 + 60)
        assert any(alarm.clock is ClockKind.DEMOLD for alarm in self.alarms)

    @property
    def alarms(self):
        latest = self.board.latest()
        assert latest is not None
        return latest.alarms

    @property
    def sees(self) -> Neighbourhood:
        return self.neighbours.latest()

    def sees_of(self, bench: int) -> Neighbour:
        return next(one for one in self.sees.benches if one.bench == bench)

    def turn(self) -> None:
        while self.exchange.turn():
            pass

    def close(self) -> None:
        self.server.close()
        self.feed.close()
        self.ledger.close()
