"""status-commas: `ST,+00999.99  g` — header, comma, sign, zero-padded number, unit right-aligned in three.

Header ST stable, QT stable piece count, US moving, OL out of range, PT tare answer. Relatives widen the
number, drop the padding, put a comma before the unit, or use `;` beside a decimal comma. A menu setting may put
number of the scale, date and time in front. The sibling print form is `WT     +1.278 ct`. One relative sends `+1.278kg`
without head and ender.
"""

from __future__ import annotations

import re

from station.scale.grammars.parts import UNIT, VALUE, measured
from station.scale.meaning import Meaning, Mode, aside, load, out_of_range, trouble
from station.scale.number import UNSIGNED
from station.scale.units import BALANCE

_HEADERS = "ST|QT|US|OL|PT|TN|SN|EC|AK|WT"
_FRONT = (
    rf"(?:(?!(?:{_HEADERS}),)[A-Z0-9][A-Z0-9-]{{0,15}}, *)?"
    r"(?:(?:[0-9]{4}/[0-9]{2}/[0-9]{2}|[0-9]{2}/[0-9]{2}/[0-9]{2,4}), *)?"
    r"(?:[0-9]{2}:[0-9]{2}:[0-9]{2}, *)?"
)
_LOAD = re.compile(rf"{_FRONT}(?P<head>ST|QT|US|PT)(?P<sep>[,;]){VALUE}(?P<sep2>[,;])? *{UNIT} *", re.ASCII)
_PRINT = re.compile(rf"(?P<head>WT|QT|US) {{1,8}}{VALUE} +{UNIT} *", re.ASCII)
_UNHEADED = re.compile(r"(?P<number>[+-][0-9]{1,6}\.[0-9]{1,5})(?P<unit>kg|g)", re.ASCII)
_RANGE = re.compile(
    rf"{_FRONT}OL[,;] *(?P<sign>[+-])? *(?:{UNSIGNED})?(?:E\+[0-9]{{2}})?[,;]? *(?P<unit>[A-Za-z%]{{1,3}})? *", re.ASCII
)
_ERROR = re.compile(r"EC,E[0-9]{2}|\?", re.ASCII)
_ANSWER = re.compile(r"(?:TN|SN|AK)[,;]?.*|\x06", re.ASCII)

_STABLE = {"ST": True, "QT": True, "WT": True, "US": False, "PT": None}


def status_commas(text: str) -> Meaning | None:
    """The meaning of one line; None when it does not fit the layout."""
    if found := _LOAD.fullmatch(text):
        if found["sep2"] and found["sep2"] != found["sep"]:
            return None
        return _load(found) if found["sep"] == "," or "." not in found["number"] else None
    if found := _RANGE.fullmatch(text):
        return out_of_range(found["sign"] == "-", BALANCE.get((found["unit"] or "").lower()))
    if found := _PRINT.fullmatch(text):
        return _load(found)
    if found := _UNHEADED.fullmatch(text):
        both = measured(found, BALANCE)
        return None if both is None else load(*both, None)
    if _ERROR.fullmatch(text):
        return trouble()
    return aside() if _ANSWER.fullmatch(text) else None


def _load(found: re.Match[str]) -> Meaning | None:
    both = measured(found, BALANCE)
    if both is None:
        return None
    stable = _STABLE[found["head"]]
    if found["head"] == "QT":
        return aside(*both, stable)
    return load(*both, stable, Mode.TARE if found["head"] == "PT" else None)
