"""Events: the facts of a cast in past tense, one journal row each. The durable state is a fold over them.

Never rename a class or a field that has been released: the journal keeps both by name.
"""

from __future__ import annotations

from dataclasses import dataclass

from station.core.clocks import ClockKind
from station.core.mass import ZERO, Mass
from station.core.moment import Moment
from station.core.plan import CastPlan
from station.core.steps import Step
from station.core.time_events import GapKnown, TimeHeard, TimeTold


@dataclass(frozen=True, slots=True)
class StationStarted:
    """The service came up. `last_seen` is the last evidence of its earlier run."""

    last_seen: Moment | None
    version: str


@dataclass(frozen=True, slots=True)
class CastBegun:
    """Cast `number` was begun at the bench."""

    number: int
    plan: CastPlan
    by: str


@dataclass(frozen=True, slots=True)
class CupTared:
    """Cup `cup` stands on the pan, empty, and weighs `tare`."""

    number: int
    cup: str
    tare: Mass


@dataclass(frozen=True, slots=True)
class CupRecognised:
    """Cup `cup` is back on the pan; `gross` is its reading. `unseen` is what was poured while nobody looked."""

    number: int
    cup: str
    gross: Mass
    unseen: Mass = ZERO


@dataclass(frozen=True, slots=True)
class FirstContact:
    """Reactive components met at `at` (the first reading that rose). Pot life and cure run from there."""

    number: int
    at: Moment
    how: str


@dataclass(frozen=True, slots=True)
class Accepted:
    """`net` of `ingredient` was accepted in its window, at rest and no longer flowing; `gross` was on the pan.

    `trace` is the digest of the weighing's trace, empty when none was kept or, in an older record, none was taken.
    """

    number: int
    step: int
    ingredient: str
    cup: str
    net: Mass
    target: Mass
    low: Mass
    high: Mass
    gross: Mass
    trace: str = ""


@dataclass(frozen=True, slots=True)
class Reopened:
    """More of `ingredient` arrived after it had been accepted; its step is open again."""

    number: int
    step: int
    ingredient: str
    gross: Mass


@dataclass(frozen=True, slots=True)
class Combined:
    """`gained` was transferred from cup `source`; `within` says whether that keeps the ratio tolerance.

    `trace` as for a weighing.
    """

    number: int
    step: int
    source: str
    gained: Mass | None
    target: Mass
    within: bool
    gross: Mass | None
    trace: str = ""


@dataclass(frozen=True, slots=True)
class Recomputed:
    """`over` too much of `ingredient`: the cast goes on with these steps (the earlier ones unchanged)."""

    number: int
    ingredient: str
    net: Mass
    over: Mass
    total: Mass
    steps: tuple[Step, ...]
    words: str


@dataclass(frozen=True, slots=True)
class StepDone:
    """The person went on from step `step`. `early` says that a minimum time was not kept, by choice."""

    number: int
    step: int
    by: str
    early: bool = False


@dataclass(frozen=True, slots=True)
class EmptiedCupWeighed:
    """`residue` clung to the emptied `cup` of component `ingredient` that had held `held`."""

    number: int
    cup: str
    ingredient: str
    residue: Mass
    held: Mass


@dataclass(frozen=True, slots=True)
class MixCupWeighed:
    """`residue` of `mixed` stayed in the cup that was poured into the mold; `capacity` is that cup's size."""

    number: int
    cup: str
    residue: Mass
    mixed: Mass
    capacity: Mass


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


@dataclass(frozen=True, slots=True)
class LotCounted:
    """The container of a lot was weighed: `gross` with `empty` for the bare container leaves `left` in it."""

    lot: str
    gross: Mass
    empty: Mass
    left: Mass
    by: str


@dataclass(frozen=True, slots=True)
class TemperatureNoted:
    """Temperature at the bench from this moment on; None: no longer known."""

    celsius: float | None


@dataclass(frozen=True, slots=True)
class RecordRestored:
    """A damaged record was replaced by `rows` rows of the backup `base` and of what was whole; `lost` are gone.

    What was there before lies in `set_aside`, beside the record.
    """

    rows: int
    lost: int
    base: str
    set_aside: str
    by: str


@dataclass(frozen=True, slots=True)
class RestoringSeen:
    """Somebody has read that the record was restored."""

    by: str


CastEvent = (
    CastBegun
    | CupTared
    | CupRecognised
    | FirstContact
    | Accepted
    | Reopened
    | Combined
    | Recomputed
    | StepDone
    | EmptiedCupWeighed
    | MixCupWeighed
    | MixedLongEnough
    | AlarmRaised
    | AlarmAcknowledged
    | AlarmWithdrawn
    | Paused
    | Resumed
    | BatchLost
    | Aborted
    | Demolded
    | Noted
)
StationEvent = (
    StationStarted | LotCounted | TemperatureNoted | RecordRestored | RestoringSeen | TimeHeard | TimeTold | GapKnown
)
"""Events that belong to no single cast."""

Event = CastEvent | StationEvent


@dataclass(frozen=True, slots=True)
class Entry:
    """One journal row before it is chained: what happened, and when the station knew it."""

    event: Event
    at: Moment


def cast_number(event: Event) -> int | None:
    """The cast that an event belongs to; None for the station's own."""
    return None if isinstance(event, StationEvent) else event.number
