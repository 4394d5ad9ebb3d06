"""Quantities as a person types them, into the station's own units.

A number without a unit is refused, unless the caller names the unit that is meant then (`bare`), as a form does that
shows it beside the field.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from station.casting.unit_names import (
    UNSAID,
    length_unit,
    mass_unit,
    quotient_unit,
    temperature_unit,
    time_unit,
    volume_unit,
)
from station.casting.units import CM3, GRAMS, MM, SECONDS, celsius_of, cm3_per_gram, grams_per_cm3
from station.casting.written import LONGEST, MayBeThousands, written
from station.core.mass import ZERO, Mass
from station.errors import SettingsError

_MOST_GRAMS = 1_000_000
_MOST_CM3 = 1_000_000_000
_MOST_MM = 1_000_000
_MOST_DENSITY = 25  # osmium, the densest metal, has 22.6 g/cm³
_MOST = 10**12


class NotAQuantity(SettingsError):
    """What was typed is not such a quantity; the sentence says what is accepted."""


class AnotherSort(NotAQuantity):
    """What was typed is no quantity of this sort at all, of whatever size."""


@dataclass(frozen=True, slots=True)
class _Sort:
    """A sort of quantity: an example of it, its units as listed, and how its unit is found from a spelling."""

    called: str
    example: str
    listed: str
    unit: Callable[[str], str | None]
    unit_word: str = "unit"

    def accepted(self, bare: str | None) -> str:
        units = f" ({self.listed})" if self.listed else ""
        if bare is None:
            return f"{self.called} with its {self.unit_word}, such as {self.example}{units}"
        return f"{self.called}, such as {self.example}{units}; without a unit {bare} is meant"


_MASS = _Sort("a mass", '"62.4 g"', "mg, g, kg, oz, lb", mass_unit)
_VOLUME = _Sort("a volume", '"150 ml"', "mm3, cm3, ml, l, in3, ft3, US fl oz, imp fl oz, US gal, imp gal", volume_unit)
_LENGTH = _Sort("a length", '"120 mm" or "1 1/2 in"', "mm, cm, m, in, ft", length_unit)
_TIME = _Sort("a time", '"50 s"', "s, min, h, d", time_unit)
_TEMPERATURE = _Sort("a temperature", '"23 °C" or "73 °F"', "", temperature_unit)
_DENSITY = _Sort("a density", '"1.06 g/cm3"', "g/cm3, g/ml, kg/m3, lb/ft3, lb/gal, lb/in3, in3/lb", quotient_unit)
_PERCENT = _Sort("a percentage", '"2 %"', "", lambda typed: "%" if typed == "%" else None, "sign")


def _shown(text: object) -> str:
    """The text as a message repeats it; no message is longer than a page."""
    return repr(text) if len(repr(text)) <= LONGEST else repr(text)[:LONGEST] + "…"


def _taken(sort: _Sort, text: object, bare: str | None) -> tuple[Fraction, str]:
    """Number and unit name of what was typed. Raises NotAQuantity."""
    try:
        found = written(text) if isinstance(text, str) else None
    except MayBeThousands as two:
        raise NotAQuantity(
            [f"{_shown(text)} may mean {two.whole} or {two.decimal}: write it without the comma."]
        ) from None
    if found is None:
        raise AnotherSort([f"{_shown(text)} is not {sort.accepted(bare)}."])
    spelling = found.rest or bare or ""
    unit = sort.unit(spelling)
    if unit is None or unit in UNSAID:
        reason = _another(sort, spelling, unit)
        raise AnotherSort([f"{_shown(text)} is not {sort.accepted(bare)}." + (f" {reason}" if reason else "")])
    return found.number, unit


def _another(sort: _Sort, spelling: str, unsaid: str | None) -> str:
    """Why a unit is no unit of this sort, where it is a known trap; "" where it is not."""
    if unsaid is not None:
        return f'Say whether the {unsaid} is the US or the imperial one: write "US {unsaid}" or "imp {unsaid}", or ml.'
    mass_of, volume_of = mass_unit(spelling), volume_unit(spelling)
    ounces = (
        "An ounce (oz) is a mass, 28.35 g; a fluid ounce (fl oz) is a volume, 29.57 ml (US) or 28.41 ml (imperial). "
    )
    if sort is _MASS and volume_of is not None and volume_of.endswith("fl oz"):
        return ounces + "Weigh it and write g or oz."
    if sort is _MASS and volume_of is not None:
        return f"{volume_of} is a unit of volume: weigh it, or multiply by the density."
    if sort is _VOLUME and mass_of == "oz":
        return ounces + "Write US fl oz, imp fl oz or ml."
    if sort is _VOLUME and mass_of is not None:
        return f"{mass_of} is a unit of mass: measure the volume, or divide by the density."
    if sort is _DENSITY and mass_of == "lb":
        return 'In the names of foams "lb" is short for pounds per cubic foot: write lb/ft3, such as "6 lb/ft3".'
    return ""


def _within(text: object, value: Fraction, most: int, beyond: str) -> Fraction:
    if abs(value) > most:
        raise NotAQuantity([f"{_shown(text)} is {beyond}."])
    return value


def _parts(sort: _Sort, text: object, pairs: Mapping[str, str]) -> tuple[str, str] | None:
    """The two halves of a quantity told in two units, large one first: 5' 3", 1 lb 4 oz, 1 h 30 min."""
    if not isinstance(text, str) or len(text) > LONGEST or text.lstrip().startswith(("-", "+")):
        return None
    for at in range(1, len(text)):
        large, small = text[:at], text[at:].lstrip(" -,")
        if small[:1].isdigit() and not large[-1:].isdigit():
            try:
                units = _taken(sort, large, None)[1], _taken(sort, small, None)[1]
            except NotAQuantity:
                continue
            if pairs.get(units[0]) == units[1]:
                return large, small
    return None


def _sum(
    sort: _Sort, text: object, bare: str | None, worth: Mapping[str, Decimal], pairs: Mapping[str, str]
) -> Fraction:
    halves = _parts(sort, text, pairs)
    total = Fraction(0)
    for half in halves or (text,):
        number, unit = _taken(sort, half, bare)
        total += number * Fraction(worth[unit])
    return total


def grams(text: object, *, bare: str | None = None) -> float:
    """A mass as `mass` reads it, in g, not rounded to whole milligrams: for converting units. Raises NotAQuantity."""
    return float(_grams(text, bare))


def mass(text: object, *, bare: str | None = None) -> Mass:
    """A mass such as "62.4 g", "1,5 kg", "12 oz", "1 lb 4 oz", of one tonne at most. Raises NotAQuantity."""
    return Mass(round(_grams(text, bare) * 1000))


def _grams(text: object, bare: str | None) -> Fraction:
    total = _sum(_MASS, text, bare, GRAMS, {"lb": "oz"})
    return _within(text, total, _MOST_GRAMS, "more than a bench holds (1000 kg)")


def some_mass(text: object, *, bare: str | None = None) -> Mass:
    """A mass above zero. Raises NotAQuantity."""
    found = mass(text, bare=bare)
    if found <= ZERO:
        raise NotAQuantity([f"{_shown(text)} must be above zero (1 mg at least)."])
    return found


def volume(text: object, *, bare: str | None = None) -> float:
    """A volume such as "150 ml", "2 1/2 US cups", "9 cu in", in cm³. Raises NotAQuantity."""
    number, unit = _taken(_VOLUME, text, bare)
    return float(_within(text, number * Fraction(CM3[unit]), _MOST_CM3, "more than any mold holds (1000 m³)"))


def length(text: object, *, bare: str | None = None) -> float:
    """A length such as "120 mm", "1-1/2 in", 5' 3", in mm. Raises NotAQuantity."""
    millimetres = _sum(_LENGTH, text, bare, MM, {"ft": "in"})
    return float(_within(text, millimetres, _MOST_MM, "longer than any workshop (1000 m)"))


def seconds(text: object, *, bare: str | None = None) -> float:
    """A time such as "50 s", "20 min", "1 h 30 min". Raises NotAQuantity."""
    total = _sum(_TIME, text, bare, SECONDS, {"d": "h", "h": "min", "min": "s"})
    return float(_within(text, total, _MOST, "longer than anything lasts"))


def celsius(text: object, *, bare: str | None = None) -> float:
    """A temperature such as "23 °C" or "73 °F", in °C. Raises NotAQuantity."""
    number, unit = _taken(_TEMPERATURE, text, bare)
    degrees = _within(text, celsius_of(number) if unit == "°F" else number, _MOST, "hotter than anything is")
    return float(degrees)


def density(text: object, *, bare: str | None = None) -> float:
    """A density such as "1.06 g/cm3", "6 lb/ft3", or its inverse "25 in3/lb", in g/cm³. Raises NotAQuantity."""
    number, unit = _taken(_DENSITY, text, bare)
    if unit.partition("/")[0] in GRAMS:
        found = number * grams_per_cm3(unit)
    elif number > 0:
        found = 1 / (number * cm3_per_gram(unit))
    else:
        raise NotAQuantity([f"{_shown(text)} must be above zero: it is the room that a mass takes."])
    # A sheet bounds its densities more narrowly by itself; a form has nobody else to ask "96 g/cm3?" for 96 kg/m3.
    most = _MOST if bare is None else _MOST_DENSITY
    return float(_within(text, found, most, "denser than any metal: look at its unit"))


def percent(text: object, *, bare: str | None = None) -> float:
    """A percentage such as "2 %". Raises NotAQuantity."""
    return float(_within(text, _taken(_PERCENT, text, bare)[0], _MOST, "more than any share"))
