"""sign-16, sign-22, sign-26: sign, right-aligned number and left-aligned unit in fixed columns, a label in front
of the longer two.

In the first two a blank unit says that the load moves, so a line without a unit is never at rest. A verified
balance sets its last digit in brackets. A sibling that answers `SI` sets the unit one column further right and does
not say whether it is at rest; where a line may be either, it is taken as not said.
"""

from __future__ import annotations

import re

from station.scale.grammars.parts import columns
from station.scale.meaning import Meaning, Mode, aside, load, out_of_range, trouble
from station.scale.number import number
from station.scale.units import BALANCE

_LOAD = re.compile(
    r"(?P<sign>[+ -])(?P<digits> *[0-9][0-9.]*(?:\[[0-9]\])?)(?P<gap> {0,2})(?P<unit>[A-Za-z%!]{0,3})(?P<end> *)",
    re.ASCII,
)
_WIDTH = 14
_UNIT_AT = (11, 12)
_WORD = re.compile(
    r" *(?P<word>HH|LL|H|L|C|--|OFF|(?:Err?|E|ERR) *(?:\.\. *)?/?[0-9]{2,3}(?:\.\.)?) *", re.ASCII | re.IGNORECASE
)
_LABELLED = re.compile(r"(?P<label>(?:[A-Za-z0-9][A-Za-z0-9:#% ./-]{5}| {6}))(?P<rest>[+ -].{13})", re.ASCII)
_MODES = {"N": Mode.NET, "G": Mode.GROSS, "G#": Mode.GROSS, "T": Mode.TARE, "T1": Mode.TARE, "T2": Mode.TARE, "": None}
_REVERSED = re.compile(r"(?P<label>[A-Za-z0-9 ]{4})(?P<number>[+ -][ 0-9.]{15,16}) (?P<unit>[A-Za-z% ]{3})", re.ASCII)
_DASHED = re.compile(r"-{5,8}(?P<word>OL|UL|LL|HH)-{5,8}", re.ASCII)


def sign_16(text: str) -> Meaning | None:
    """The meaning of a line of 14 characters; None when it does not fit the columns."""
    if len(text) != _WIDTH:
        return None
    if word := _WORD.fullmatch(text):
        return _said(word["word"].upper())
    found = _LOAD.fullmatch(text)
    if found is None:
        return None
    value = number(found["sign"] + found["digits"].replace("[", "").replace("]", ""))
    if value is None:
        return None
    if not found["unit"]:
        return load(value, None, False) if found.end("digits") in (10, 11) else None
    if found["unit"] == "!":
        return aside(value)
    unit = BALANCE.get(found["unit"].lower())
    if unit is None or found.start("unit") not in _UNIT_AT:
        return None
    return load(value, unit, _at_rest(found))


def sign_22(text: str) -> Meaning | None:
    """The meaning of a line of 20 characters: a label of six and the columns of `sign_16`."""
    found = _LABELLED.fullmatch(text)
    if found is None:
        return None
    label, meaning = found["label"].strip(), sign_16(found["rest"])
    if label not in _MODES:
        if label == "Stat":
            return meaning if meaning is not None and meaning.number is None else aside()
        return aside() if meaning is None else _beside(meaning)
    if meaning is None or meaning.number is None:
        return meaning
    return load(meaning.number, meaning.unit, meaning.stable, _MODES[label])


def sign_26(text: str) -> Meaning | None:
    """The meaning of a line with 15 digit columns; it does not say whether the load is at rest."""
    if word := _DASHED.fullmatch(text):
        return aside() if word["word"] in ("LL", "HH") else out_of_range(word["word"] == "UL")
    found = _REVERSED.fullmatch(text)
    both = None if found is None else columns(found, BALANCE)
    if found is None or both is None:
        return None
    label = found["label"].strip()
    return load(*both, None, _MODES[label]) if label in _MODES else aside(*both)


def _at_rest(found: re.Match[str]) -> bool | None:
    """At rest, unless the unit may stand in the columns of the sibling that does not say."""
    if found["sign"] == "+":
        return True
    right_aligned = found.end("unit") == _WIDTH - 1 and found.start("unit") + len(found["unit"]) == _WIDTH - 1
    return None if right_aligned and len(found["end"]) == 1 and len(found["unit"]) <= 2 else True


def _said(word: str) -> Meaning:
    if word in ("H", "L"):
        return out_of_range(word == "L")
    return aside() if word in ("HH", "LL", "C") else trouble()


def _beside(meaning: Meaning) -> Meaning:
    """A labelled value that is not the load: counts, references and deviations."""
    counted = meaning.unit is not None and meaning.kind is meaning.kind.OTHER
    return aside(meaning.number, meaning.unit, meaning.stable if counted else None)
