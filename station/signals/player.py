"""Player: one thread that turns a buzzer on and off as the score says. Callers never wait for it."""

from __future__ import annotations

import threading
from collections.abc import Callable
from types import TracebackType
from typing import Protocol

from station.signals.beat import Beat
from station.signals.patterns import Pattern
from station.signals.score import Score


class Sounder(Protocol):
    """What can be on or off. Neither call raises for a device that fails."""

    def on(self, tick_hz: float | None = None) -> None:
        """Sound; a tick of the pace at its pitch, where the device has one."""
        ...

    def off(self) -> None:
        """Be silent."""
        ...


class Player:
    """Plays cues and the held alarm. `ticks` are seconds of a clock that never runs back."""

    def __init__(self, sounder: Sounder, ticks: Callable[[], float]) -> None:
        self._sounder = sounder
        self._beat = Beat(ticks)
        self._score = Score()
        self._tick_hz: float | None = None
        self._changed = threading.Condition()
        self._version = 0
        self._ending = False
        self._thread = threading.Thread(target=self._run, name="buzzer")

    def cue(self, pattern: Pattern) -> None:
        """Play once, now."""
        with self._changed:
            self._score.cue(pattern, self._standing_still())
            self._look_again()

    def hold(self, pattern: Pattern) -> None:
        """Repeat this until told otherwise; the same again changes nothing."""
        with self._changed:
            self._score.hold(pattern, self._standing_still())
            self._look_again()

    def pace(self, pattern: Pattern, tick_hz: float | None = None) -> None:
        """Tick like this until told otherwise, wherever nothing else sounds; the same again changes nothing."""
        with self._changed:
            self._tick_hz = tick_hz
            self._score.pace(pattern, self._standing_still())
            self._look_again()

    def __enter__(self) -> Player:
        self._thread.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        with self._changed:
            self._ending = True
            self._look_again()
        self._thread.join()

    def _standing_still(self) -> float:
        """The time of the score, which goes on when the thread has played what is due now."""
        now_s = self._beat.now()
        self._beat.stop_at(now_s)
        return now_s

    def _look_again(self) -> None:
        self._version += 1
        self._changed.notify_all()

    def _run(self) -> None:
        sounding = False
        while True:
            with self._changed:
                if self._ending:
                    break
                version = self._version
                sounds, until_s = self._score.at(self._standing_still())
                tick_hz = self._tick_hz if self._score.ticking else None
            # Outside the lock, so that a slow pin never holds up the bench.
            if sounds is not sounding:
                if sounds:
                    self._sounder.on(tick_hz)
                else:
                    self._sounder.off()
                sounding = sounds
            self._wait(version, until_s)
        self._sounder.off()

    def _wait(self, version: int, until_s: float | None) -> None:
        with self._changed:
            if self._version != version:
                return
            self._beat.stop_at(until_s)
            left_s = None if until_s is None else max(0.0, until_s - self._beat.now())
            self._changed.wait_for(lambda: self._version != version, left_s)
