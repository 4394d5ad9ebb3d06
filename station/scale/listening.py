"""Listening to one opened port as its settings say: requests when due, bytes to frames, frames to what may be known."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from station.config import ScaleSettings
from station.core.messages import NoLoad, Reading
from station.core.moment import Moment
from station.ports import TimeSource
from station.scale.asking import Asking
from station.scale.bit7 import FORMATS
from station.scale.decoder import Decoder
from station.scale.families import family_named
from station.scale.port import Port
from station.scale.sense import Expected, Sense

QUIET_S = 0.08
"""Silence that ends a frame without an ender: three characters at the slowest rate, and what an adapter holds back."""


@dataclass(frozen=True, slots=True)
class Heard:
    """What one turn of listening gave: the bytes, what the bench may know of them, and why they are doubted."""

    at: Moment
    data: bytes
    messages: list[Reading | NoLoad]
    doubt: str | None


class Listening:
    """One connection, for one thread. `pouring` tells whether a changed unit must wait."""

    def __init__(
        self, port: Port, settings: ScaleSettings, clock: TimeSource, pouring: Callable[[], bool] = lambda: False
    ) -> None:
        spec = family_named(settings.family)
        request = settings.request if settings.request is not None else spec.request
        self._port, self._clock = port, clock
        self._character = FORMATS[settings.character]
        self._asking = None if request is None else Asking(self._character.sent(request), settings.poll_s)
        self._decoder = Decoder(spec, synced=request is not None)
        self._sense = Sense(Expected(spec, settings.unit, settings.worth, request is None), pouring)

    def turn(self, patience_s: float) -> Heard:
        """Ask if it is due, and listen for `patience_s` at most. Raises what the port raises when it goes away."""
        patience_s = self._ask(patience_s)
        data = self._port.read(QUIET_S if self._decoder.waits_for_silence else patience_s)
        at = self._clock.now()
        frames = self._decoder.feed(self._character.read(data)) if data else self._decoder.quiet()
        if frames and self._asking is not None:
            self._asking.heard()
        messages = self._sense.hear(frames, len(data), at.boot_s)
        doubt = self._sense.doubt(at.boot_s) or (None if frames else self._sense.silence(at.boot_s))
        return Heard(at, data, messages, doubt)

    def _ask(self, patience_s: float) -> float:
        """Send the request when it is due; how long to listen after that."""
        if self._asking is None:
            return patience_s
        now_s = self._clock.now().boot_s
        if self._asking.due_in(now_s) <= 0:
            self._port.write(self._asking.request)
            self._asking.sent(now_s)
        return min(patience_s, self._asking.due_in(now_s))
