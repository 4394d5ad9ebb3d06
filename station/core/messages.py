"""Messages: all that may come in at the bench. Facts from devices, presses, and commands from people."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import Enum

from station.core.clocks import ClockKind
from station.core.judging_messages import JudgingCommand
from station.core.mass import Mass
from station.core.mix_amount import Amount
from station.core.moment import Moment
from station.core.plan import CastPlan
from station.metrology.promise import ScalePromise


class Stability(Enum):
    """What a frame itself says about rest. `UNSAID`: this family does not tell."""

    STABLE = "stable"
    MOVING = "moving"
    UNSAID = "not said"


@dataclass(frozen=True, slots=True)
class Reading:
    """A live load on the pan as the scale indicates it."""

    gross: Mass
    stability: Stability


class Trouble(Enum):
    """Why a frame carries no load."""

    OVERLOAD = "overload"
    UNDERLOAD = "underload"
    ERROR = "error"


@dataclass(frozen=True, slots=True)
class NoLoad:
    """The scale speaks, but says that it has no load to tell."""

    trouble: Trouble


@dataclass(frozen=True, slots=True)
class ScaleLost:
    """The port went away or cannot be opened; `why` is a sentence."""

    why: str


@dataclass(frozen=True, slots=True)
class ScaleFound:
    """The port is open (again); nothing is known yet of what stands on the pan."""

    port: str


@dataclass(frozen=True, slots=True)
class Tick:
    """Nothing but time has passed."""


@dataclass(frozen=True, slots=True)
class Temperature:
    """Temperature at the bench in °C, None when there is no sensor and nobody has said."""

    celsius: float | None


class Press(Enum):
    """A press of the pedal, of the big button, or of the page's button."""

    SHORT = "short"
    LONG = "long"


@dataclass(frozen=True, slots=True)
class Pressed:
    """Short: go on, or acknowledge what sounds. Long: pause, or resume. `by` says where ("pedal", "page")."""

    press: Press
    by: str


@dataclass(frozen=True, slots=True)
class BeginCast:
    """Start this cast at the bench."""

    plan: CastPlan
    by: str


@dataclass(frozen=True, slots=True)
class QueueCast:
    """Let this plan wait for the bench: last, or in place of the one with the ticket `instead`.

    The rest is for working it out again, see `queue_events.CastQueued`.
    """

    plan: CastPlan
    amount: Amount
    promise: ScalePromise | None
    typed: str
    by: str
    instead: int | None = None


@dataclass(frozen=True, slots=True)
class TakeQueued:
    """Begin the plan with this ticket; None: the first of the queue."""

    ticket: int | None
    by: str


@dataclass(frozen=True, slots=True)
class MoveQueued:
    """Give the plan with this ticket another place in the queue, the first of which is 1."""

    ticket: int
    place: int
    by: str


@dataclass(frozen=True, slots=True)
class DropQueued:
    """Take the plan with this ticket out of the queue."""

    ticket: int
    by: str


@dataclass(frozen=True, slots=True)
class Abort:
    """Give up the cast at the bench, or one that cures; `reason` is for the record."""

    number: int
    reason: str
    by: str


@dataclass(frozen=True, slots=True)
class Acknowledge:
    """Silence one alarm."""

    number: int
    clock: ClockKind
    by: str


@dataclass(frozen=True, slots=True)
class Demold:
    """The part is out of the mold."""

    number: int
    by: str


@dataclass(frozen=True, slots=True)
class AddNote:
    """A remark for a cast's record."""

    number: int
    text: str
    by: str


@dataclass(frozen=True, slots=True)
class AddPhoto:
    """A photo of a cast lies beside the record; the values are those of `photo_events.PhotoAdded`."""

    number: int
    name: str
    digest: str
    small: str
    wide: int
    high: int
    caption: str
    by: str


@dataclass(frozen=True, slots=True)
class RemovePhoto:
    """Show this photo of the cast no more."""

    number: int
    name: str
    by: str


@dataclass(frozen=True, slots=True)
class CountLot:
    """The container of this lot weighs `gross`, of which `empty` is the bare container."""

    lot: str
    gross: Mass
    empty: Mass
    by: str


@dataclass(frozen=True, slots=True)
class TellGap:
    """The power cut before boot `boot_id` lasted `off_s` seconds; None: nobody knows, and nobody shall ask again."""

    boot_id: str
    off_s: float | None
    by: str


@dataclass(frozen=True, slots=True)
class TellTime:
    """It is `wall` (UTC) now: a person's word, or their phone's."""

    wall: datetime
    by: str


@dataclass(frozen=True, slots=True)
class Started:
    """The station has just started; `last_seen` is the last moment for which there is evidence of it running."""

    last_seen: Moment | None
    version: str


@dataclass(frozen=True, slots=True)
class RecordBack:
    """The record takes entries again; `written` of them were waiting in memory."""

    written: int


@dataclass(frozen=True, slots=True)
class RecordTrouble:
    """The record cannot be written; `waiting` entries are kept in memory."""

    why: str
    waiting: int


@dataclass(frozen=True, slots=True)
class Restored:
    """A damaged record was restored; the numbers are those of `events.RecordRestored`."""

    rows: int
    lost: int
    base: str
    set_aside: str
    by: str


@dataclass(frozen=True, slots=True)
class SeeRestoring:
    """Somebody has read that the record was restored."""

    by: str


Queueing = QueueCast | TakeQueued | MoveQueued | DropQueued
Command = (
    BeginCast
    | Queueing
    | Abort
    | Acknowledge
    | Demold
    | AddNote
    | AddPhoto
    | RemovePhoto
    | CountLot
    | TellGap
    | TellTime
    | Pressed
    | Restored
    | SeeRestoring
    | JudgingCommand
)
Fact = Reading | NoLoad | ScaleLost | ScaleFound | Tick | Temperature | Started | RecordBack | RecordTrouble
Message = Command | Fact
