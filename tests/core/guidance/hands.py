"""A hand without a will of its own: pours at the flow that it is told, stops a fixed time after the stop."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from station.core.guidance.learned import Learned
from station.core.guidance.pour import Phase, Pour, due, heard
from station.core.guidance.task import Strength, Task


def task(target: float = 62.4, percent: float = 1.0, d: float = 0.1, lag: float = 0.3) -> Task:
    half = target * percent / 100
    return Task(target, target - half, target + half, d, lag, Strength.EVEN)


@dataclass
class Hand:
    """`flow` of the pace; `late_s` from the stop to its end; the scale shows what was there `lag_s` ago."""

    task: Task
    learned: Learned
    flow: Callable[[float], float]
    late_s: float = 0.4
    rate_hz: float = 10.0
    pour: Pour = field(default_factory=Pour)
    grams: float = 0.0
    at_s: float = 0.0
    stops: list[float] = field(default_factory=list)
    paces: list[float] = field(default_factory=list)
    _past: list[float] = field(default_factory=lambda: [0.0])

    def shown(self) -> float:
        ago = round(self.task.lag_s * 100)
        return round(self._past[max(0, len(self._past) - 1 - ago)] / self.task.d_g) * self.task.d_g

    def go(self, seconds: float, pouring: bool = True) -> None:
        """So many seconds, in hundredths; the scale speaks at its rate."""
        every = round(100 / self.rate_hz)
        for n in range(round(seconds * 100)):
            self.at_s += 0.01
            closed = bool(self.stops) and self.at_s > self.stops[-1] + self.late_s
            if pouring and not closed:
                self.grams += 0.01 * self.flow(self.pour.pace)
            self._past.append(self.grams)
            after = due(self.pour, self.at_s, self.task)
            if after is not None:
                self.pour = after
                self.stops.append(self.at_s)
            if n % every == 0:
                self.pour = heard(self.pour, self.at_s, self.shown(), self.task, self.learned)
                self.paces.append(self.pour.pace)

    def until_stopped(self, most_s: float = 60.0) -> None:
        while self.pour.phase is not Phase.STOPPED and self.at_s < most_s:
            self.go(0.1)
        self.go(3.0)
