"""Units of mass, volume, length and density as sheets, cups and rulers carry them, with their exact worth.

Factors: NIST Special Publication 811 (2008), appendix B.8, and NIST Handbook 44, appendix C: pound, ounce, inch,
foot, US and imperial gallon are exact by definition, and what is made from them is exact too. The names are those
that are shown; `unit_names` knows how people spell them.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType

_POUND_G = Decimal("453.59237")
_INCH_MM = Decimal("25.4")
_IN3_CM3 = Decimal("16.387064")
_US_GALLON_CM3 = 231 * _IN3_CM3
_IMPERIAL_GALLON_CM3 = Decimal("4546.09")

GRAMS: Mapping[str, Decimal] = MappingProxyType(
    {
        "mg": Decimal("0.001"),
        "g": Decimal(1),
        "kg": Decimal(1000),
        "oz": _POUND_G / 16,
        "lb": _POUND_G,
        "ozt": Decimal("31.1034768"),
        "dwt": Decimal("1.55517384"),
        "grain": Decimal("0.06479891"),
    }
)
"""Grams in one unit of mass. `oz` is the avoirdupois ounce, `ozt` the troy ounce, `dwt` the pennyweight."""

CM3: Mapping[str, Decimal] = MappingProxyType(
    {
        "mm³": Decimal("0.001"),
        "cm³": Decimal(1),
        "ml": Decimal(1),
        "cl": Decimal(10),
        "dl": Decimal(100),
        "l": Decimal(1000),
        "m³": Decimal(1_000_000),
        "in³": _IN3_CM3,
        "ft³": 1728 * _IN3_CM3,
        "yd³": 46656 * _IN3_CM3,
        "US fl oz": _US_GALLON_CM3 / 128,
        "US tsp": _US_GALLON_CM3 / 768,
        "US tbsp": _US_GALLON_CM3 / 256,
        "US cup": _US_GALLON_CM3 / 16,
        "US pt": _US_GALLON_CM3 / 8,
        "US qt": _US_GALLON_CM3 / 4,
        "US gal": _US_GALLON_CM3,
        "imp fl oz": _IMPERIAL_GALLON_CM3 / 160,
        "imp pt": _IMPERIAL_GALLON_CM3 / 8,
        "imp qt": _IMPERIAL_GALLON_CM3 / 4,
        "imp gal": _IMPERIAL_GALLON_CM3,
    }
)
"""Cubic centimetres in one unit of volume. The litre is 1 dm³ exactly, so 1 ml is 1 cm³."""

MM: Mapping[str, Decimal] = MappingProxyType(
    {
        "mm": Decimal(1),
        "cm": Decimal(10),
        "m": Decimal(1000),
        "in": _INCH_MM,
        "ft": 12 * _INCH_MM,
        "yd": 36 * _INCH_MM,
    }
)
"""Millimetres in one unit of length."""

SECONDS: Mapping[str, Decimal] = MappingProxyType(
    {"s": Decimal(1), "min": Decimal(60), "h": Decimal(3600), "d": Decimal(86400)}
)
"""Seconds in one unit of time."""

DENSITIES: tuple[str, ...] = ("g/cm³", "kg/m³", "lb/ft³", "lb/US gal", "lb/in³", "oz/in³")
"""Densities that sheets give; any unit of mass over any unit of volume is one."""

SPECIFIC_VOLUMES: tuple[str, ...] = ("in³/lb", "cm³/g")
"""A density told the other way round: how much room a mass takes."""


def grams_per_cm3(unit: str) -> Fraction:
    """The worth of a unit of density such as "lb/ft³", in g/cm³, exactly (it has endless decimals).

    Raises KeyError for what is not a unit of mass over one of volume.
    """
    mass, _, volume = unit.partition("/")
    return Fraction(GRAMS[mass]) / Fraction(CM3[volume])


def cm3_per_gram(unit: str) -> Fraction:
    """The worth of a unit of specific volume such as "in³/lb", in cm³/g, exactly. Raises KeyError for others."""
    volume, _, mass = unit.partition("/")
    return Fraction(CM3[volume]) / Fraction(GRAMS[mass])


def celsius_of(fahrenheit: Fraction) -> Fraction:
    """Temperature in °C: (°F - 32) / 1.8 (NIST SP 811 (2008), B.8). Not for differences: those are only / 1.8."""
    return (fahrenheit - 32) * 5 / 9


def fahrenheit_of(celsius: Fraction) -> Fraction:
    """Temperature in °F: 1.8 °C + 32 (NIST SP 811 (2008), B.8)."""
    return celsius * 9 / 5 + 32
