"""Facts that come in at the bench by themselves: from the scale, the clock, the sensors, the record and the start."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from station.core.mass import Mass
from station.core.moment import Moment


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


@dataclass(frozen=True, slots=True)
class Humidity:
    """Relative humidity of the air at the bench in percent, None when no sensor tells it."""

    percent: float | None


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


Fact = Reading | NoLoad | ScaleLost | ScaleFound | Tick | Temperature | Humidity | Started | RecordBack | RecordTrouble
