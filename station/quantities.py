"""Quantities as a person types them, into the station's own units. A number without a unit is refused."""

from __future__ import annotations

import re
from decimal import Decimal

from station.core.mass import ZERO, Mass
from station.errors import SettingsError

_MOST_GRAMS = Decimal(1_000_000)
_THOUSANDS = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}")
_NUMBER = re.compile(r"\s*([+-]?\d+(?:[.,]\d+)?)\s*(\S.*?)?\s*")

GRAMS: dict[str, Decimal] = {
    "mg": Decimal("0.001"),
    "g": Decimal(1),
    "kg": Decimal(1000),
    "oz": Decimal("28.349523125"),
    "lb": Decimal("453.59237"),
}
"""Exact by definition: NIST SP 811 (2008), Appendix B."""

SECONDS: dict[str, float] = {"s": 1.0, "min": 60.0, "h": 3600.0, "d": 86400.0}
DENSITIES: dict[str, float] = {"g/cm3": 1.0, "g/cm³": 1.0, "g/ml": 1.0, "kg/m3": 0.001, "kg/m³": 0.001}


class NotAQuantity(SettingsError):
    """What was typed is not such a quantity; the sentence says what is accepted."""


def _split(text: object, accepted: str) -> tuple[Decimal, str]:
    found = _NUMBER.fullmatch(text) if isinstance(text, str) else None
    if found is None:
        raise NotAQuantity([f"{text!r} is not {accepted}."])
    if _THOUSANDS.fullmatch(found.group(1)):
        # 1,500 g is 1.5 g to one reader and 1500 g to another: a batch must not hang on which.
        plain, point = found.group(1).replace(",", ""), found.group(1).replace(",", ".")
        raise NotAQuantity([f"{text!r} may mean {plain} or {point}: write it without the comma."])
    return Decimal(found.group(1).replace(",", ".")), found.group(2) or ""


def mass(text: object) -> Mass:
    """A mass such as "62.4 g", "1,5 kg", "12 oz", of one tonne at most. Raises NotAQuantity."""
    accepted = 'a mass with its unit, such as "62.4 g" (mg, g, kg, oz, lb)'
    number, unit = _split(text, accepted)
    if unit not in GRAMS:
        raise NotAQuantity([f"{text!r} is not {accepted}."])
    if abs(grams := number * GRAMS[unit]) > _MOST_GRAMS:
        raise NotAQuantity([f"{text!r} is more than a bench holds (1000 kg)."])
    return Mass.grams(grams)


def some_mass(text: object) -> Mass:
    """A mass above zero. Raises NotAQuantity."""
    found = mass(text)
    if found <= ZERO:
        raise NotAQuantity([f"{text!r} must be above zero (1 mg at least)."])
    return found


def seconds(text: object) -> float:
    """A time such as "50 s", "20 min", "16 h". Raises NotAQuantity."""
    accepted = 'a time with its unit, such as "50 s" (s, min, h, d)'
    number, unit = _split(text, accepted)
    if unit not in SECONDS:
        raise NotAQuantity([f"{text!r} is not {accepted}."])
    return float(number) * SECONDS[unit]


def celsius(text: object) -> float:
    """A temperature such as "23 °C" or "73 °F", in °C. Raises NotAQuantity."""
    accepted = 'a temperature with its unit, such as "23 °C" or "73 °F"'
    number, unit = _split(text, accepted)
    match unit.replace(" ", ""):
        case "°C" | "C":
            return float(number)
        case "°F" | "F":
            return float((number - 32) * 5 / 9)
        case _:
            raise NotAQuantity([f"{text!r} is not {accepted}."])


def density(text: object) -> float:
    """A density such as "1.06 g/cm3", in g/cm³. Raises NotAQuantity."""
    accepted = 'a density with its unit, such as "1.06 g/cm3" (g/cm3, g/ml, kg/m3)'
    number, unit = _split(text, accepted)
    if unit not in DENSITIES:
        raise NotAQuantity([f"{text!r} is not {accepted}."])
    return float(number) * DENSITIES[unit]


def percent(text: object) -> float:
    """A percentage such as "2 %". Raises NotAQuantity."""
    accepted = 'a percentage with its sign, such as "2 %"'
    number, unit = _split(text, accepted)
    if unit != "%":
        raise NotAQuantity([f"{text!r} is not {accepted}."])
    return float(number)
