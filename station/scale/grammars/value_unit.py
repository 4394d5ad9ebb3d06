"""value-unit: `    12.345 kg` — a number and its unit, any width, with a weight label in front or ST behind at most.

Pounds and ounces may come as one display (`1 lb  2.5 oz`, `2:03.5 lb:oz`); an apostrophe may part the thousands.
One relative names its station and status: `ID01 ST W=7.25`.
"""

from __future__ import annotations

import re
from decimal import Decimal

from station.scale.grammars.parts import TORN, UNIT, VALUE, measured, spoken
from station.scale.meaning import Meaning, Mode, compound, load, out_of_range
from station.scale.number import NUMBER, UNSIGNED, number
from station.scale.units import PLAIN

_NEUTRAL = "W|P|WT|WEIGHT|LOAD|MASS|PESO|POIDS|GEWICHT|GEW"
_GROSS = "G|GS|GR|GROSS|BRUTTO|BRUTO|BRUT"
_NET = "N|NT|NET|NETT|NETTO|NETO"
_TARE = "T|TR|PT|TARE|TARA"
_LABEL = rf" *(?:(?P<label>{_NEUTRAL}|{_GROSS}|{_NET}|{_TARE}) *(?:[:=]| (?=[ 0-9+-])))?"
_GROUPED = r" *[+-]? *[0-9]{1,3}(?:'[0-9]{3})+(?:\.[0-9]{1,7})?"
_SIGNED_LAST = rf" *{UNSIGNED} ?[+-]"
_ANY = rf"(?P<number>{_GROUPED}|{_SIGNED_LAST}|{NUMBER})"
_TAIL = r"(?:[ ,]+(?P<status>ST|US))?"
_FLAGS = re.ASCII | re.IGNORECASE
_LOAD = re.compile(rf"{_LABEL}{_ANY} *{UNIT}{_TAIL} *", _FLAGS)
_STATION = re.compile(rf"ID[0-9]{{1,2}} (?P<status>ST|US|OL|UL) W={VALUE}(?: *{UNIT})? *", re.ASCII)
_POUNDS = re.compile(
    rf"{_LABEL} *(?P<sign>[+-])? *(?P<lb>[0-9]{{1,4}}) *(?:lb *(?P<oz>{UNSIGNED}) *oz|: *(?P<oz2>{UNSIGNED}) *lb:oz) *",
    _FLAGS,
)
_MODES = dict.fromkeys(_GROSS.split("|"), Mode.GROSS)
_MODES |= dict.fromkeys(_NET.split("|"), Mode.NET) | dict.fromkeys(_TARE.split("|"), Mode.TARE)
_STABLE = {"ST": True, "US": False}


def value_unit(text: str) -> Meaning | None:
    """The meaning of one line; None when it does not fit the layout."""
    if found := _POUNDS.fullmatch(text):
        ounces = number(found["oz"] or found["oz2"])
        if ounces is None or ounces.value >= 16:
            return None
        return load(compound(Decimal(found["lb"]), ounces, found["sign"] == "-"), "lboz", None, _mode(found))
    if TORN.match(text):
        return None
    if found := _LOAD.fullmatch(text):
        both = measured(found, PLAIN)
        return None if both is None else load(*both, _STABLE.get((found["status"] or "").upper()), _mode(found))
    if found := _STATION.fullmatch(text):
        return _station(found)
    return spoken(text)


def _mode(found: re.Match[str]) -> Mode | None:
    return _MODES.get((found["label"] or "").upper())


def _station(found: re.Match[str]) -> Meaning | None:
    value, unit = number(found["number"]), PLAIN.get((found["unit"] or "").lower())
    if found["status"] not in _STABLE:
        return out_of_range(found["status"] == "UL", unit)
    if value is None or (found["unit"] and unit is None):
        return None
    return load(value, unit, _STABLE[found["status"]])
