"""What one line on the wire says, before anybody decides what it is good for at the bench."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import Enum

from station.scale.number import Number
from station.scale.units import COUNTS


class Kind(Enum):
    """`OTHER` is everything that is neither a weight nor a complaint: counts, totals, texts, unreadable lines."""

    WEIGHT = "weight"
    OVERLOAD = "overload"
    UNDERLOAD = "underload"
    ERROR = "error"
    OTHER = "other"


class Mode(Enum):
    """Which mass a line tells. `TARE` looks like a weight and must never reach the live reading."""

    NET = "net"
    GROSS = "gross"
    TARE = "tare"


@dataclass(frozen=True, slots=True)
class Meaning:
    """One decoded line: `number` as shown, `unit` in our spelling, `stable` None when the line does not say."""

    kind: Kind
    number: Number | None = None
    unit: str | None = None
    stable: bool | None = None
    mode: Mode | None = None


def load(number: Number, unit: str | None, stable: bool | None, mode: Mode | None = None) -> Meaning:
    """A number that stands where the load stands; counts are no load, and a field full of nines is a range message."""
    if unit in COUNTS:
        return Meaning(Kind.OTHER, number, unit, stable, mode)
    if number.all_nines:
        return out_of_range(number.value < 0, unit, mode)
    return Meaning(Kind.WEIGHT, number, unit, stable, mode)


def out_of_range(below: bool, unit: str | None = None, mode: Mode | None = None) -> Meaning:
    """Over Max, or under the lowest load when `below`."""
    return Meaning(Kind.UNDERLOAD if below else Kind.OVERLOAD, unit=unit, mode=mode)


def trouble(unit: str | None = None, mode: Mode | None = None) -> Meaning:
    """The scale says that something is wrong, or refuses a request."""
    return Meaning(Kind.ERROR, unit=unit, mode=mode)


def aside(number: Number | None = None, unit: str | None = None, stable: bool | None = None) -> Meaning:
    """Understood, and not about the load on the pan."""
    return Meaning(Kind.OTHER, number, unit, stable)


def compound(pounds: Decimal, ounces: Number, negative: bool) -> Number:
    """Pounds and ounces as one number of avoirdupois ounces (1 lb = 16 oz)."""
    total = pounds * 16 + ounces.value
    return Number(total.copy_sign(Decimal(-1)) if negative else total, ounces.decimals, False)
