"""What the probed station notes of the way from a line to the pin: when a reading was handed in, when the pin rose.

So that there are enough of them, the step says a cue at each load that is a multiple of some mass; all that follows,
from the writing to the pin, is the station's own.
"""

from __future__ import annotations

import time
from typing import Any

import station.loop
from station.app import Station
from station.core.bench import Bench
from station.core.cues import Cue
from station.core.effects import Effect, Say
from station.core.messages import Message, Reading
from station.core.moment import Moment
from station.inbox import Inbox
from station.loop import Loop
from station.signals.player import Player


class TimedWire:
    """Times are seconds of the machine's monotonic clock, which all its processes share."""

    def __init__(self) -> None:
        self.readings: list[tuple[int, float]] = []
        self.pins: list[float] = []
        self.every_mg = 0
        self._posted: dict[int, float] = {}
        self._in_hand_s = self._cued_s = 0.0
        self._patch()

    def _patch(self) -> None:
        post, handle, cue, step = Inbox.post, Loop.handle, Player.cue, station.loop.step

        def posted(inbox: Inbox, message: Any, at: Any = None) -> None:
            if isinstance(message, Reading):
                now_s = self._posted[id(message)] = time.perf_counter()
                self.readings.append((message.gross.mg, now_s))
            post(inbox, message, at)

        def handled(loop: Loop, envelope: Any) -> None:
            self._in_hand_s = self._posted.pop(id(envelope.message), 0.0)
            handle(loop, envelope)

        def stepped(bench: Bench, message: Message, now: Moment) -> tuple[Bench, tuple[Effect, ...]]:
            after, effects = step(bench, message, now)
            marked = self.every_mg and isinstance(message, Reading) and message.gross.mg % self.every_mg == 0
            return after, (*effects, Say(Cue.NEAR, "benchmark")) if marked else effects

        def cued(player: Player, pattern: Any) -> None:
            self._cued_s = self._in_hand_s
            cue(player, pattern)

        station.loop.step = stepped
        Inbox.post, Loop.handle, Player.cue = posted, handled, cued  # type: ignore[method-assign]

    def watch(self, station: Station, number: int) -> None:
        """Note how long after the reading that called for a cue this pin of the station rises."""
        pin = station.panel.factory.pin(number)
        change = pin._change_state

        def changed(value: float) -> bool:
            since_s, now_s = self._cued_s, time.perf_counter()
            if value and since_s:
                self._cued_s = 0.0
                self.pins.append(now_s - since_s)
            return bool(change(value))

        pin._change_state = changed

    def taken(self) -> dict[str, Any]:
        """All that was noted since the last call."""
        found = {"readings": self.readings, "pins": self.pins}
        self.readings, self.pins = [], []
        return found


def bare_pin_s(station: Station, number: int, times: int = 2000) -> float:
    """Median seconds of a bare call that turns a mock pin on or off: the floor below every cue."""
    pin, took = station.panel.factory.pin(number), []
    for turn in range(times):
        began = time.perf_counter()
        pin.state = float(turn % 2 == 0)
        took.append(time.perf_counter() - began)
    pin.state = 0.0
    return sorted(took)[times // 2]
