"""What one sensor said lately: the median of its last three readings, until it has been silent for too long."""

from __future__ import annotations

from dataclasses import dataclass, replace
from statistics import median

from station.climate.faults import NoSensor, SensorFault
from station.core.moment import Moment

SMOOTHED = 3
SILENT_AFTER = 5
"""Looks in a row that may fail before the last reading counts no more."""


@dataclass(frozen=True, slots=True)
class Readings:
    """`recent` with the newest last, `at` when it was read, `silent` looks in vain since, `fault` why."""

    recent: tuple[float, ...] = ()
    at: Moment | None = None
    silent: int = 0
    fault: SensorFault | None = None

    @property
    def last(self) -> float | None:
        """What the look before gave; None when it gave nothing."""
        return self.recent[-1] if self.recent and not self.silent else None

    @property
    def lost(self) -> bool:
        """Whether it has been silent for too long."""
        return self.silent >= SILENT_AFTER

    @property
    def value(self) -> float | None:
        """The smoothed reading; None when there is none that still counts."""
        return median(self.recent) if self.recent and not self.lost else None

    def heard(self, value: float, at: Moment, jump: float) -> Readings:
        """With one more reading. One further than `jump` from the last starts the smoothing afresh."""
        fresh = self.lost or (bool(self.recent) and abs(value - self.recent[-1]) > jump)
        return Readings(((() if fresh else self.recent) + (value,))[-SMOOTHED:], at)

    def missed(self, fault: SensorFault) -> Readings:
        """After one more look in vain."""
        return replace(self, silent=self.silent + 1, fault=fault)

    @property
    def never_there(self) -> bool:
        """Whether there has not been such a sensor at all."""
        return not self.recent and isinstance(self.fault, NoSensor)

    @property
    def trouble(self) -> str:
        """What is wrong with it now, as a sentence; empty when nothing is."""
        return "" if self.fault is None else self.fault.sentence()
