"""Messages: all that may come in at the bench. Facts from devices, presses, and commands from people."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import Enum

from station.core.clocks import ClockKind
from station.core.incoming import (
    Fact,
    Humidity,
    NoLoad,
    Reading,
    RecordBack,
    RecordTrouble,
    ScaleFound,
    ScaleLost,
    Stability,
    Started,
    Temperature,
    Tick,
    Trouble,
)
from station.core.judging_messages import JudgingCommand, TakePart
from station.core.learning_messages import LearningCommand
from station.core.mass import Mass
from station.core.mold_messages import ApplyRelease, MoldCommand, RetireMold, ReturnMold
from station.core.plan import CastPlan
from station.core.pouring_messages import PouringCommand
from station.core.queue_messages import DropQueued, MoveQueued, QueueCast, Queueing, TakeQueued

__all__ = [
    "Abort",
    "Acknowledge",
    "AddNote",
    "AddPhoto",
    "ApplyRelease",
    "BeginCast",
    "Command",
    "CountLot",
    "Demold",
    "DropQueued",
    "Fact",
    "Humidity",
    "JudgingCommand",
    "Message",
    "MoldCommand",
    "MoveQueued",
    "NoLoad",
    "Press",
    "Pressed",
    "QueueCast",
    "Queueing",
    "Reading",
    "RecordBack",
    "RecordTrouble",
    "RemovePhoto",
    "Restored",
    "RetireMold",
    "ReturnMold",
    "ScaleFound",
    "ScaleLost",
    "SeeRestoring",
    "Stability",
    "Started",
    "TakeQueued",
    "TellGap",
    "TellTime",
    "Temperature",
    "Tick",
    "Trouble",
]


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
    | MoldCommand
    | TellGap
    | TellTime
    | Pressed
    | Restored
    | SeeRestoring
    | TakePart
    | JudgingCommand
    | LearningCommand
    | PouringCommand
)
Message = Command | Fact
