"""Figures as a person gives them, refused in a sentence when no scale could have them."""

from __future__ import annotations

import math
from decimal import Decimal

from station.errors import Refused
from station.texts import decimal, number, t


def finite(name: str, value: float) -> float:
    """`value`, or Refused when it is not a number; `name` is what the sentence calls it, in the station's language."""
    if not math.isfinite(value):
        raise Refused(
            t("The {name} is {value}, which is not a number.", name=name, value=value),
            t("Enter it again as the display shows it."),
        )
    return value


def above_zero(name: str, value: float, unit: str = "g") -> float:
    """`value`, or Refused when it is not a number above zero."""
    if finite(name, value) <= 0:
        raise Refused(
            t("The {name} is {value} {unit}; it must be above zero.", name=name, value=number(value), unit=unit),
            t("Enter it again."),
        )
    return value


def not_below_zero(name: str, value: float, unit: str = "g") -> float:
    """`value`, or Refused when it is not a number of zero or more."""
    if finite(name, value) < 0:
        raise Refused(
            t("The {name} is {value} {unit}; it cannot be below zero.", name=name, value=number(value), unit=unit),
            t("Enter it again."),
        )
    return value


def as_shown(grams: float, step_g: float) -> str:
    """Grams with the decimals of a display that counts in `step_g`: 8.2 g on a 0.1 g scale."""
    exponent = Decimal(str(step_g)).normalize().as_tuple().exponent
    decimals = max(-exponent, 0) if isinstance(exponent, int) else 0
    return decimal(f"{grams:.{decimals}f} g")


def rounded_up(grams: float, step_g: float) -> float:
    """The next multiple of `step_g` at or above `grams` (a whisker below a multiple counts as the multiple)."""
    return math.ceil(round(grams / step_g, 6)) * step_g
