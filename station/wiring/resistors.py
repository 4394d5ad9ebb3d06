"""Resistors and filters: Ohm's law, the next value that is made, and how long a filter takes.

Units: volts, amperes, ohms, farads, seconds. The values made are series E12 of IEC 60063.
"""

from __future__ import annotations

import math

E12 = (1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2)
"""One decade of series E12, IEC 60063."""


def series_ohm(supply_v: float, drop_v: float, current_a: float) -> float:
    """The resistor in series with a part that takes `drop_v` (Ohm's law). Raises ValueError when no voltage is left."""
    left_v = supply_v - drop_v
    if left_v <= 0 or current_a <= 0:
        raise ValueError("a resistor in series needs voltage left over, and a current")
    return left_v / current_a


def current_a(supply_v: float, drop_v: float, ohm: float) -> float:
    """The current through that resistor (Ohm's law)."""
    return (supply_v - drop_v) / ohm


def next_above(ohm: float) -> float:
    """The smallest E12 value that is not below `ohm`: no more current than asked for."""
    return min(value for value in _around(ohm) if value >= ohm * (1 - 1e-9))


def next_below(ohm: float) -> float:
    """The largest E12 value that is not above `ohm`: no less current than asked for."""
    return max(value for value in _around(ohm) if value <= ohm * (1 + 1e-9))


def _around(ohm: float) -> list[float]:
    if not 1e-3 < ohm < 1e12:
        raise ValueError("no such resistor is made")
    power = math.floor(math.log10(ohm))
    # Two significant digits, so that 4.7 × 1000 is 4700 and not a hair beside it.
    return [float(f"{value * 10.0**exponent:.2g}") for exponent in (power - 1, power, power + 1) for value in E12]


def time_constant_s(ohm: float, farad: float) -> float:
    """RC: after it a filter has gone 63 % of its way."""
    return ohm * farad


def charged_after_s(ohm: float, farad: float, supply_v: float, to_v: float) -> float:
    """How long a capacitor takes from empty to `to_v` through `ohm` from `supply_v`: RC · ln(U / (U − u))."""
    return time_constant_s(ohm, farad) * math.log(supply_v / (supply_v - to_v))
