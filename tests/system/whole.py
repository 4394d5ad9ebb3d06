"""A whole station in a thread of its own: bytes on a pseudo-terminal in; pins, record and page out."""

from __future__ import annotations

import threading
from pathlib import Path

from gpiozero.pins.mock import MockFactory, MockPWMPin

from station.app import Station, assembled
from station.config import ClimateSettings, ScaleSettings, Settings, SignalSettings, WebSettings
from station.core.mass import Mass
from station.core.material import ScaleCard
from station.core.messages import Command
from station.core.snapshot import Snapshot
from station.simulated.pty_port import PtyPort
from station.testing import ScriptedClock

CARD = ScaleCard(Mass.grams("0.1"), Mass.grams(3000), lag_s=0.3)
WITHIN_S = 20.0


class Whole:
    """Frames move the clock by a tenth of a second each; the next one waits until the station has dealt with it."""

    def __init__(self, folder: Path, clock: ScriptedClock | None = None) -> None:
        self.clock = clock or ScriptedClock()
        self.port = PtyPort(folder / "scale")
        self.settings = Settings(
            name="Test bench",
            state_dir=folder,
            scale=ScaleSettings(port=str(self.port.path), family="status-commas", card=CARD),
            signals=SignalSettings(speech=False),
            climate=ClimateSettings("none", humidity=False),
            web=WebSettings("127.0.0.1", 0),
        )
        self.pins = MockFactory(pin_class=MockPWMPin)
        self.codes: list[str] = []
        self.station: Station
        self.failure: BaseException | None = None
        self._ready = threading.Event()
        self._thread = threading.Thread(target=self._life)

    def _life(self) -> None:
        try:
            with assembled(
                self.settings, self.clock, pin_factory=self.pins, announce=self.codes.append, ticks=False
            ) as station:
                self.station = station
                self._ready.set()
                station.loop.run()
        except BaseException as failure:
            self.failure = failure
        finally:
            self._ready.set()

    def __enter__(self) -> Whole:
        self.port.plug_in()
        self._thread.start()
        assert self._ready.wait(WITHIN_S)
        if self.failure is not None:
            raise self.failure
        for _ in range(200):
            self.port.emit(b"ST,+000000.0  g\r\n")
            seen = self.station.board.newer_than(-1, 0.05)
            if seen is not None and seen.scale.frames:
                break
            threading.Event().wait(0.02)
        assert self.seen.scale.frames
        return self

    def __exit__(self, *_: object) -> None:
        self.station.inbox.end()
        self._thread.join(WITHIN_S)
        self.port.unplug()
        assert not self._thread.is_alive()

    @property
    def seen(self) -> Snapshot:
        latest = self.station.board.latest()
        assert latest is not None
        return latest

    def ask(self, command: Command) -> int | None:
        return self.station.inbox.ask(command).result(WITHIN_S)

    def line(self, data: bytes, seconds: float = 0.1) -> None:
        """These bytes, and wait until a load came of them."""
        before = self.seen.scale.frames
        self.clock.advance(seconds)
        self.port.emit(data)
        self.until(lambda seen: seen.scale.frames > before)

    def until(self, holds) -> Snapshot:
        seen = self.seen
        while not holds(seen):
            newer = self.station.board.newer_than(seen.seq, WITHIN_S)
            assert newer is not None, f"never happened; last seen {seen.bench and seen.bench.title}"
            seen = newer
        return seen

    def stand(self, grams: float, seconds: float = 2.5) -> None:
        for _ in range(round(seconds * 10)):
            self.line(f"ST,{'-' if grams < 0 else '+'}{abs(grams):08.1f}  g\r\n".encode())

    def pour(self, start: float, amount: float, g_per_s: float, settle_s: float = 3.0) -> float:
        now = start
        while now < start + amount - 1e-9:
            now = min(start + amount, now + g_per_s / 10)
            self.line(f"US,+{now:08.1f}  g\r\n".encode())
        self.stand(now, settle_s)
        return now
