"""Events of a cast beside its weighing: how it goes on, its alarms, and how it ends.

Never rename a class or a field that has been released: the journal keeps both by name.
"""

from __future__ import annotations

from dataclasses import dataclass

from station.core.clocks import ClockKind
from station.core.plan import CastPlan


@dataclass(frozen=True, slots=True)
class CastBegun:
    """Cast `number` was begun at the bench."""

    number: int
    plan: CastPlan
    by: str


@dataclass(frozen=True, slots=True)
class StepDone:
    """The person went on from step `step`. `early` says that a minimum time was not kept, by choice."""

    number: int
    step: int
    by: str
    early: bool = False


@dataclass(frozen=True, slots=True)
class MixedLongEnough:
    """The minimum mix time was reached."""

    number: int


@dataclass(frozen=True, slots=True)
class AlarmRaised:
    """A clock fell due and its alarm began to sound, `late_s` after it was due (None: unknown)."""

    number: int
    clock: ClockKind
    late_s: float | None
    why: str


@dataclass(frozen=True, slots=True)
class AlarmAcknowledged:
    """Somebody silenced the alarm, `after_s` after it was raised (None: unknown)."""

    number: int
    clock: ClockKind
    by: str
    after_s: float | None


@dataclass(frozen=True, slots=True)
class AlarmWithdrawn:
    """The alarm fell silent because its clock turned out not to be due; it will sound again when it is."""

    number: int
    clock: ClockKind
    left_s: float


@dataclass(frozen=True, slots=True)
class Paused:
    """Weighing pauses; the clocks do not."""

    number: int
    by: str


@dataclass(frozen=True, slots=True)
class Resumed:
    """Weighing goes on."""

    number: int
    by: str


@dataclass(frozen=True, slots=True)
class BatchLost:
    """The batch cannot be saved; `reason` says why, with the numbers."""

    number: int
    reason: str


@dataclass(frozen=True, slots=True)
class Aborted:
    """A person gave the cast up."""

    number: int
    reason: str
    by: str


@dataclass(frozen=True, slots=True)
class Demolded:
    """The part came out of the mold."""

    number: int
    by: str


@dataclass(frozen=True, slots=True)
class Noted:
    """A remark."""

    number: int
    text: str
    by: str
