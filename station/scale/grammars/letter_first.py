"""letter-first: `S  999.99g` — one letter S stable, U or D moving, a sign column, number, unit glued to it.

The letter may be missing; the digit that a verified balance does not vouch for stands in brackets. `oL` stands for
the load beyond the range, with `-` in front below it.
"""

from __future__ import annotations

import re

from station.scale.grammars.parts import columns
from station.scale.meaning import Meaning, load, out_of_range
from station.scale.units import BALANCE

_LOAD = re.compile(
    r"(?P<letter>[SUD])?(?P<number>[ -]? *[0-9]+(?:\.[0-9]*(?:\[[0-9]\])?|\[[0-9]\])?)(?P<unit>[A-Za-z%]{1,3}) ?",
    re.ASCII,
)
_RANGE = re.compile(r"[SUD ]?(?P<sign>[ -]) *oL *", re.ASCII | re.IGNORECASE)
_STABLE = {"S": True, "U": False, "D": False, None: None}


def letter_first(text: str) -> Meaning | None:
    """The meaning of one line; None when it does not fit the layout."""
    if found := _RANGE.fullmatch(text):
        return out_of_range(found["sign"] == "-")
    found = _LOAD.fullmatch(text)
    both = None if found is None else columns(found, BALANCE)
    return None if found is None or both is None else load(*both, _STABLE[found["letter"]])
