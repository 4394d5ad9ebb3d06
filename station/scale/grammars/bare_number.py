"""bare-number: `  1.250` — eight to ten characters of number and no unit; the configured unit holds.

A field full of nines is a range message. A letter of mode, a station number (`@ 01 1.234`) or, in one layout of
three columns, station and tare (`1   44140    00`) may stand beside the weight.
"""

from __future__ import annotations

import re

from station.scale.grammars.parts import VALUE, spoken
from station.scale.meaning import Meaning, Mode, load
from station.scale.number import UNSIGNED, number

_DIGITS = 8
_PLAIN = re.compile(rf" *(?:(?P<mode>[NGT]) +|\$|@ ?[0-9]{{2}} +)?{VALUE} *", re.ASCII)
_SIGNED_LAST = re.compile(rf" *(?P<number>{UNSIGNED} ?[+-]) *", re.ASCII)
_COLUMNS = re.compile(rf" *[0-9]{{1,2}} +(?P<number>[+-]?{UNSIGNED}) +{UNSIGNED} *", re.ASCII)
_MODES = {"N": Mode.NET, "G": Mode.GROSS, "T": Mode.TARE, None: None}


def bare_number(text: str) -> Meaning | None:
    """The meaning of one line; None when it does not fit, and for more digits than a scale has."""
    if found := _PLAIN.fullmatch(text):
        return _load(found["number"], _MODES[found["mode"]])
    if found := _SIGNED_LAST.fullmatch(text) or _COLUMNS.fullmatch(text):
        return _load(found["number"], None)
    return spoken(text)


def _load(text: str, mode: Mode | None) -> Meaning | None:
    value = number(text)
    if value is None or sum(c.isdigit() for c in text) > _DIGITS:
        return None
    return load(value, None, None, mode)
