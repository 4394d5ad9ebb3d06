"""Sorts of quantities that people type: how a unit is found from its spelling, and what is said of what is none."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from station.casting.unit_names import (
    length_unit,
    mass_unit,
    quotient_unit,
    temperature_unit,
    time_unit,
    volume_unit,
)
from station.casting.written import LONGEST
from station.texts import N_, t


def shown(text: object) -> str:
    """What was typed as a message repeats it; no message is longer than a page."""
    return repr(text) if len(repr(text)) <= LONGEST else repr(text)[:LONGEST] + "…"


@dataclass(frozen=True, slots=True)
class Sort:
    """A sort of quantity: how its unit is found from a spelling, and what is said of a text that is none.

    `with_unit` is said where the unit must be typed, `bare` where one is meant without.
    """

    unit: Callable[[str], str | None]
    with_unit: str
    bare: str

    def refusal(self, text: object, bare: str | None) -> str:
        """What is said of a text that is none; `bare` is the unit meant without."""
        return t(self.with_unit, typed=shown(text)) if bare is None else t(self.bare, typed=shown(text), unit=bare)


MASS = Sort(
    mass_unit,
    N_('{typed} is not a mass with its unit, such as "62.4 g" (mg, g, kg, oz, lb).'),
    N_('{typed} is not a mass, such as "62.4 g" (mg, g, kg, oz, lb); without a unit {unit} is meant.'),
)
VOLUME = Sort(
    volume_unit,
    N_(
        '{typed} is not a volume with its unit, such as "150 ml" (mm3, cm3, ml, l, in3, ft3, US fl oz, imp fl oz, '
        "US gal, imp gal)."
    ),
    N_(
        '{typed} is not a volume, such as "150 ml" (mm3, cm3, ml, l, in3, ft3, US fl oz, imp fl oz, US gal, imp gal); '
        "without a unit {unit} is meant."
    ),
)
LENGTH = Sort(
    length_unit,
    N_('{typed} is not a length with its unit, such as "120 mm" or "1 1/2 in" (mm, cm, m, in, ft).'),
    N_('{typed} is not a length, such as "120 mm" or "1 1/2 in" (mm, cm, m, in, ft); without a unit {unit} is meant.'),
)
TIME = Sort(
    time_unit,
    N_('{typed} is not a time with its unit, such as "50 s" (s, min, h, d).'),
    N_('{typed} is not a time, such as "50 s" (s, min, h, d); without a unit {unit} is meant.'),
)
TEMPERATURE = Sort(
    temperature_unit,
    N_('{typed} is not a temperature with its unit, such as "23 °C" or "73 °F".'),
    N_('{typed} is not a temperature, such as "23 °C" or "73 °F"; without a unit {unit} is meant.'),
)
DENSITY = Sort(
    quotient_unit,
    N_(
        '{typed} is not a density with its unit, such as "1.06 g/cm3" (g/cm3, g/ml, kg/m3, lb/ft3, lb/gal, lb/in3, '
        "in3/lb)."
    ),
    N_(
        '{typed} is not a density, such as "1.06 g/cm3" (g/cm3, g/ml, kg/m3, lb/ft3, lb/gal, lb/in3, in3/lb); without '
        "a unit {unit} is meant."
    ),
)
PERCENT = Sort(
    lambda typed: "%" if typed == "%" else None,
    N_('{typed} is not a percentage with its sign, such as "2 %".'),
    N_('{typed} is not a percentage, such as "2 %"; without a unit {unit} is meant.'),
)


def trap(sort: Sort, spelling: str, unsaid: str | None) -> str:
    """Why a unit is no unit of this sort, where it is a known trap; "" where it is not."""
    if unsaid is not None:
        return t(
            'Say whether the {unit} is the US or the imperial one: write "US {unit}" or "imp {unit}", or ml.',
            unit=unsaid,
        )
    mass_of, volume_of = mass_unit(spelling), volume_unit(spelling)
    if sort is MASS and volume_of is not None and volume_of.endswith("fl oz"):
        return t(
            "An ounce (oz) is a mass, 28.35 g; a fluid ounce (fl oz) is a volume, 29.57 ml (US) or 28.41 ml "
            "(imperial). Weigh it and write g or oz."
        )
    if sort is MASS and volume_of is not None:
        return t("{unit} is a unit of volume: weigh it, or multiply by the density.", unit=volume_of)
    if sort is VOLUME and mass_of == "oz":
        return t(
            "An ounce (oz) is a mass, 28.35 g; a fluid ounce (fl oz) is a volume, 29.57 ml (US) or 28.41 ml "
            "(imperial). Write US fl oz, imp fl oz or ml."
        )
    if sort is VOLUME and mass_of is not None:
        return t("{unit} is a unit of mass: measure the volume, or divide by the density.", unit=mass_of)
    if sort is DENSITY and mass_of == "lb":
        return t('In the names of foams "lb" is short for pounds per cubic foot: write lb/ft3, such as "6 lb/ft3".')
    return ""
