"""What befalls a bench scale and its cable in a workshop, as types; see `BenchScale.befall`.

Times are seconds of the scale's own time, counted from the moment it befalls; `math.inf` is until `Mended`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

from station.simulated.line import LineSetting
from station.simulated.voices import Delivery


class Lost(Enum):
    """What of a torn frame never arrives."""

    HEAD = "the bytes before the cut"
    TAIL = "the bytes from the cut on"
    NOTHING = "the rest comes late, right before the next frame"


@dataclass(frozen=True, slots=True)
class Unplugged:
    """The cable is out; what the scale says meanwhile is lost."""


@dataclass(frozen=True, slots=True)
class PluggedIn:
    """The cable is in again. `elsewhere`: as another device; `suffix`: under its first name with this behind it."""

    elsewhere: bool = False
    suffix: str = ""


@dataclass(frozen=True, slots=True)
class HalfLine:
    """The next frame is torn before its byte number `at`, counted from 0."""

    at: int
    lost: Lost = Lost.TAIL


@dataclass(frozen=True, slots=True)
class Burst:
    """An adapter holds everything back for so long, then hands it over at once."""

    pause_s: float = 2.0


@dataclass(frozen=True, slots=True)
class Restarted:
    """The scale lost its power and comes back after `off_s`, tare and zero forgotten.

    `zeroes`: it takes what lies on the pan then for zero, as many scales do when switched on (common practice).
    """

    off_s: float = 2.0
    zeroes: bool = False


@dataclass(frozen=True, slots=True)
class UnitChanged:
    """Somebody pressed the unit key: g, kg, lb or oz."""

    unit: str


@dataclass(frozen=True, slots=True)
class FamilyChanged:
    """Another output format was chosen in the menu; the serial setting stays. `delivery` None: the usual one."""

    family: str
    delivery: Delivery | None = None


@dataclass(frozen=True, slots=True)
class LineChanged:
    """Another bit rate or character format was chosen in the menu; None: as if every host's setting fitted."""

    setting: LineSetting | None


@dataclass(frozen=True, slots=True)
class Stuck:
    """The scale goes on sending what it showed when it got stuck, whatever happens on the pan."""

    seconds: float = math.inf


@dataclass(frozen=True, slots=True)
class Silent:
    """The scale sends and answers nothing, but keeps tare and zero."""

    seconds: float = math.inf


@dataclass(frozen=True, slots=True)
class AutoOff:
    """The scale switches itself off after each `on_s`, and is switched on again after `off_s`, like `Restarted`."""

    on_s: float
    off_s: float
    zeroes: bool = False


@dataclass(frozen=True, slots=True)
class Mended:
    """No longer stuck, silent, off, holding back or switching itself off. Menu and cable stay as they are."""


Fault = (
    Unplugged
    | PluggedIn
    | HalfLine
    | Burst
    | Restarted
    | UnitChanged
    | FamilyChanged
    | LineChanged
    | Stuck
    | Silent
    | AutoOff
    | Mended
)
"""Anything that can befall a simulated scale, and its end."""
