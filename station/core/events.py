"""Events: the facts of a cast in past tense, one journal row each. The durable state is a fold over them.

Never rename a class or a field that has been released: the journal keeps both by name.
"""

from __future__ import annotations

from dataclasses import dataclass

from station.core.advice_events import AdviceAdopted, AdviceDropped
from station.core.cast_events import (
    Aborted,
    AlarmAcknowledged,
    AlarmRaised,
    AlarmWithdrawn,
    BatchLost,
    CastBegun,
    Demolded,
    MixedLongEnough,
    Noted,
    Paused,
    Resumed,
    StepDone,
)
from station.core.judging_events import (
    HardnessRead,
    HardnessWithdrawn,
    Judged,
    JudgingEvent,
    JudgingWaived,
    PartMassWithdrawn,
    PartWeighed,
    ShrinkageMeasured,
    ShrinkageWithdrawn,
    VerdictWithdrawn,
)
from station.core.mold_events import MoldRetired, MoldReturned, ReleaseApplied
from station.core.moment import Moment
from station.core.photo_events import PhotoAdded, PhotoRemoved
from station.core.pouring_events import PouringEvent, PourLearned, PoursForgotten
from station.core.queue_events import CastQueued, QueueDropped, QueueMoved, QueueTaken
from station.core.station_events import (
    HumidityNoted,
    LotCounted,
    RecordRestored,
    RestoringSeen,
    StationStarted,
    TemperatureNoted,
)
from station.core.time_events import GapKnown, TimeHeard, TimeTold
from station.core.trial_events import TrialBegun, TrialCastLeft, TrialCastTaken, TrialEnded
from station.core.weighing_events import (
    Accepted,
    Combined,
    CupRecognised,
    CupTared,
    EmptiedCupWeighed,
    FirstContact,
    MixCupWeighed,
    Recomputed,
    Reopened,
)

__all__ = [
    "Aborted",
    "Accepted",
    "AdviceAdopted",
    "AdviceDropped",
    "AlarmAcknowledged",
    "AlarmRaised",
    "AlarmWithdrawn",
    "BatchEvent",
    "BatchLost",
    "CastBegun",
    "CastEvent",
    "CastQueued",
    "Combined",
    "CupRecognised",
    "CupTared",
    "Demolded",
    "EmptiedCupWeighed",
    "Entry",
    "Event",
    "FirstContact",
    "GapKnown",
    "HardnessRead",
    "HardnessWithdrawn",
    "HumidityNoted",
    "Judged",
    "JudgingEvent",
    "JudgingWaived",
    "LearningEvent",
    "LotCounted",
    "MixCupWeighed",
    "MixedLongEnough",
    "MoldRetired",
    "MoldReturned",
    "Noted",
    "PartMassWithdrawn",
    "PartWeighed",
    "Paused",
    "PhotoAdded",
    "PhotoRemoved",
    "PourLearned",
    "PouringEvent",
    "PoursForgotten",
    "QueueDropped",
    "QueueMoved",
    "QueueTaken",
    "Recomputed",
    "RecordRestored",
    "ReleaseApplied",
    "Reopened",
    "RestoringSeen",
    "Resumed",
    "ShrinkageMeasured",
    "ShrinkageWithdrawn",
    "StationEvent",
    "StationStarted",
    "StepDone",
    "TemperatureNoted",
    "TimeHeard",
    "TimeTold",
    "TrialBegun",
    "TrialCastLeft",
    "TrialCastTaken",
    "TrialEnded",
    "VerdictWithdrawn",
    "cast_number",
]

BatchEvent = (
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
    | PhotoAdded
    | PhotoRemoved
)
"""Events of a cast but for the judging of its part."""

CastEvent = BatchEvent | JudgingEvent
LearningEvent = AdviceAdopted | AdviceDropped | TrialBegun | TrialCastTaken | TrialCastLeft | TrialEnded
"""Advice that plans use, and trials."""

StationEvent = (
    StationStarted
    | LotCounted
    | TemperatureNoted
    | HumidityNoted
    | RecordRestored
    | RestoringSeen
    | TimeHeard
    | TimeTold
    | GapKnown
    | CastQueued
    | QueueMoved
    | QueueTaken
    | QueueDropped
    | ReleaseApplied
    | MoldRetired
    | MoldReturned
    | LearningEvent
    | PouringEvent
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
