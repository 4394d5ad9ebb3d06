"""Ears for the tests: what a score sounds in simulated time, and pins and a sounder that can be waited for."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterable
from typing import Any

from gpiozero.pins.mock import MockFactory, MockPWMPin

from station.signals.patterns import Pattern
from station.signals.score import Score

DEADLINE_S = 20.0

Script = Iterable[tuple[float, Callable[[Score, float], None]]]
Sound = tuple[float, float]
"""From when until when."""


def heard(script: Script, until_s: float) -> list[Sound]:
    """The sounds of a score to which these things happen, in seconds from its beginning."""
    score, sounds = Score(), []
    ahead = sorted(script, key=lambda happening: happening[0])
    now_s = 0.0
    began_s: float | None = None
    while now_s < until_s:
        while ahead and ahead[0][0] <= now_s:
            ahead.pop(0)[1](score, now_s)
        on, until = score.at(now_s)
        if on and began_s is None:
            began_s = now_s
        elif not on and began_s is not None:
            sounds.append((began_s, now_s))
            began_s = None
        now_s = min(until_s, *(t for t in (until, ahead[0][0] if ahead else None, until_s) if t is not None))
    return sounds if began_s is None else [*sounds, (began_s, until_s)]


def cue(at_s: float, pattern: Pattern) -> tuple[float, Callable[[Score, float], None]]:
    return at_s, lambda score, now_s: score.cue(pattern, now_s)


def hold(at_s: float, pattern: Pattern) -> tuple[float, Callable[[Score, float], None]]:
    return at_s, lambda score, now_s: score.hold(pattern, now_s)


def lengths(sounds: Iterable[Sound]) -> list[float]:
    return [round(end_s - begin_s, 6) for begin_s, end_s in sounds]


class RecordingSounder:
    """On and off as they came; `wait_until` waits for a state of affairs with one deadline."""

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self.states: list[bool] = []
        self.pitches: list[float | None] = []

    def on(self, tick_hz: float | None = None) -> None:
        self.pitches.append(tick_hz)
        self._keep(True)

    def off(self) -> None:
        self._keep(False)

    def wait_until(self, true: Callable[[list[bool]], bool]) -> bool:
        with self._changed:
            return self._changed.wait_for(lambda: true(self.states), DEADLINE_S)

    def _keep(self, state: bool) -> None:
        with self._changed:
            self.states.append(state)
            self._changed.notify_all()


class WatchedFactory(MockFactory):
    """Mock pins whose changes can be waited for; a pin in `broken` fails when it is driven."""

    def __init__(self) -> None:
        super().__init__(pin_class=WatchedPin)
        self.changed = threading.Condition()
        self.broken: set[int] = set()

    def states(self, number: int) -> list[bool]:
        """What the pin has done, its first state left away."""
        return [bool(state.state) for state in self.pin(number).states[1:]]

    def wait_until(self, true: Callable[[], bool]) -> bool:
        with self.changed:
            return self.changed.wait_for(true, DEADLINE_S)


class WatchedPin(MockPWMPin):
    """A mock pin that tells its factory of each change."""

    def _change_state(self, value: Any) -> bool:
        factory = self.factory
        assert isinstance(factory, WatchedFactory)
        if self.info.name in {f"GPIO{number}" for number in factory.broken}:
            raise OSError("pin is gone")
        changed = bool(super()._change_state(value))
        with factory.changed:
            factory.changed.notify_all()
        return changed
