"""Quantities as a person types them, into the station's own units.

A number without a unit is refused, unless the caller names the unit that is meant then (`bare`), as a form does that
shows it beside the field.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction

from station.casting.quantity_sorts import (
    DENSITY,
    LENGTH,
    MASS,
    PERCENT,
    TEMPERATURE,
    TIME,
    VOLUME,
    Sort,
    shown,
    trap,
)
from station.casting.unit_names import UNSAID
from station.casting.units import CM3, GRAMS, MM, SECONDS, celsius_of, cm3_per_gram, grams_per_cm3
from station.casting.written import LONGEST, MayBeThousands, written
from station.core.mass import ZERO, Mass
from station.errors import SettingsError
from station.texts import N_, t

_MOST_GRAMS = 1_000_000
_MOST_CM3 = 1_000_000_000
_MOST_MM = 1_000_000
_MOST_DENSITY = 25  # osmium, the densest metal, has 22.6 g/cm³
_MOST = 10**12


class NotAQuantity(SettingsError):
    """What was typed is not such a quantity; the sentence says what is accepted."""


class AnotherSort(NotAQuantity):
    """What was typed is no quantity of this sort at all, of whatever size."""


def _taken(sort: Sort, text: object, bare: str | None) -> tuple[Fraction, str]:
    """Number and unit name of what was typed. Raises NotAQuantity."""
    try:
        found = written(text) if isinstance(text, str) else None
    except MayBeThousands as two:
        raise NotAQuantity(
            [
                t(
                    "{typed} may mean {whole} or {decimal}: write it without the comma.",
                    typed=shown(text),
                    whole=two.whole,
                    decimal=two.decimal,
                )
            ]
        ) from None
    if found is None:
        raise AnotherSort([sort.refusal(text, bare)])
    spelling = found.rest or bare or ""
    unit = sort.unit(spelling)
    if unit is None or unit in UNSAID:
        reason = trap(sort, spelling, unit)
        raise AnotherSort([" ".join(said for said in (sort.refusal(text, bare), reason) if said)])
    return found.number, unit


def _within(text: object, value: Fraction, most: int, beyond: str) -> Fraction:
    if abs(value) > most:
        raise NotAQuantity([t(beyond, typed=shown(text))])
    return value


def _parts(sort: Sort, text: object, pairs: Mapping[str, str]) -> tuple[str, str] | None:
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
    sort: Sort, text: object, bare: str | None, worth: Mapping[str, Decimal], pairs: Mapping[str, str]
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
    total = _sum(MASS, text, bare, GRAMS, {"lb": "oz"})
    return _within(text, total, _MOST_GRAMS, N_("{typed} is more than a bench holds (1000 kg)."))


def some_mass(text: object, *, bare: str | None = None) -> Mass:
    """A mass above zero. Raises NotAQuantity."""
    found = mass(text, bare=bare)
    if found <= ZERO:
        raise NotAQuantity([t("{typed} must be above zero (1 mg at least).", typed=shown(text))])
    return found


def volume(text: object, *, bare: str | None = None) -> float:
    """A volume such as "150 ml", "2 1/2 US cups", "9 cu in", in cm³. Raises NotAQuantity."""
    number, unit = _taken(VOLUME, text, bare)
    return float(
        _within(text, number * Fraction(CM3[unit]), _MOST_CM3, N_("{typed} is more than any mold holds (1000 m³)."))
    )


def length(text: object, *, bare: str | None = None) -> float:
    """A length such as "120 mm", "1-1/2 in", 5' 3", in mm. Raises NotAQuantity."""
    millimetres = _sum(LENGTH, text, bare, MM, {"ft": "in"})
    return float(_within(text, millimetres, _MOST_MM, N_("{typed} is longer than any workshop (1000 m).")))


def seconds(text: object, *, bare: str | None = None) -> float:
    """A time such as "50 s", "20 min", "1 h 30 min". Raises NotAQuantity."""
    total = _sum(TIME, text, bare, SECONDS, {"d": "h", "h": "min", "min": "s"})
    return float(_within(text, total, _MOST, N_("{typed} is longer than anything lasts.")))


def celsius(text: object, *, bare: str | None = None) -> float:
    """A temperature such as "23 °C" or "73 °F", in °C. Raises NotAQuantity."""
    number, unit = _taken(TEMPERATURE, text, bare)
    degrees = _within(
        text, celsius_of(number) if unit == "°F" else number, _MOST, N_("{typed} is hotter than anything is.")
    )
    return float(degrees)


def density(text: object, *, bare: str | None = None) -> float:
    """A density such as "1.06 g/cm3", "6 lb/ft3", or its inverse "25 in3/lb", in g/cm³. Raises NotAQuantity."""
    number, unit = _taken(DENSITY, text, bare)
    if unit.partition("/")[0] in GRAMS:
        found = number * grams_per_cm3(unit)
    elif number > 0:
        found = 1 / (number * cm3_per_gram(unit))
    else:
        raise NotAQuantity([t("{typed} must be above zero: it is the room that a mass takes.", typed=shown(text))])
    # A sheet bounds its densities more narrowly by itself; a form has nobody else to ask "96 g/cm3?" for 96 kg/m3.
    most = _MOST if bare is None else _MOST_DENSITY
    return float(_within(text, found, most, N_("{typed} is denser than any metal: look at its unit.")))


def percent(text: object, *, bare: str | None = None) -> float:
    """A percentage such as "2 %". Raises NotAQuantity."""
    return float(_within(text, _taken(PERCENT, text, bare)[0], _MOST, N_("{typed} is more than any share.")))
