"""reply-letter: `S S     999.99 g` — the answer repeats the command letter, then one letter of status.

Status S stable, D moving, I not now, `+` over, `-` under; `ES ET EL` refuse a request. An older header has two
letters and no blank between (`SD    -183.96 g`). The answer to a tare request holds the tare, not the load. The
print key sends another shape: running number, N/G/T, number, unit.
"""

from __future__ import annotations

import re

from station.scale.grammars.parts import UNIT, VALUE, measured
from station.scale.meaning import Meaning, Mode, aside, load, out_of_range, trouble
from station.scale.number import NUMBER, number
from station.scale.units import BALANCE

_LOAD = re.compile(rf"S (?P<status>[SD]) {VALUE} +{UNIT} *", re.ASCII)
_OLDER = re.compile(rf"S(?P<status>[ D]) {VALUE} +{UNIT} *", re.ASCII)
_UNITLESS = re.compile(rf"SD (?P<number>{NUMBER}) *", re.ASCII)
_TARE = re.compile(rf"T(?:I|A)? (?P<status>[SDA]) {VALUE} +{UNIT} *", re.ASCII)
_PRINTED = re.compile(rf" *(?:[0-9]{{1,4}} +)?(?P<mode>[NGT]) +{VALUE} +{UNIT} *", re.ASCII)
_RANGE = re.compile(r"S(?: |I|I )(?P<sign>[+-]) *", re.ASCII)
_REFUSED = re.compile(r"E[STL] *|S [IL] *|(?:Z|ZI|T|TI|TA|I[0-9]{1,2}) [IL] *|(?:Z|ZI|T|TI) [+-] *", re.ASCII)
_DONE = re.compile(r"(?:Z|ZI) [ASD] *|TAC A *|I[0-9]{1,2} [AB] .*", re.ASCII)

_STABLE = {"S": True, "D": False, " ": True, "A": None}
_MODES = {"N": Mode.NET, "G": Mode.GROSS, "T": Mode.TARE}


def reply_letter(text: str) -> Meaning | None:
    """The meaning of one line; None when it does not fit the layout."""
    if found := _RANGE.fullmatch(text):
        return out_of_range(found["sign"] == "-")
    if found := _LOAD.fullmatch(text) or _OLDER.fullmatch(text):
        return _load(found, _STABLE[found["status"]], None)
    if found := _TARE.fullmatch(text):
        return _load(found, _STABLE[found["status"]], Mode.TARE)
    if found := _UNITLESS.fullmatch(text):
        # Only a moving line may lack its unit: then nothing can be tared or accepted on it.
        value = number(found["number"])
        return None if value is None else load(value, None, False)
    if found := _PRINTED.fullmatch(text):
        return _load(found, None, _MODES[found["mode"]])
    if _REFUSED.fullmatch(text):
        return trouble()
    return aside() if _DONE.fullmatch(text) else None


def _load(found: re.Match[str], stable: bool | None, mode: Mode | None) -> Meaning | None:
    both = measured(found, BALANCE)
    return None if both is None else load(*both, stable, mode)
