"""What the grammars share: a number with its unit, and the words scales show instead of a load."""

from __future__ import annotations

import re
from collections.abc import Mapping

from station.scale.meaning import Meaning, out_of_range, trouble
from station.scale.number import NUMBER, Number, number

VALUE = f"(?P<number>{NUMBER})"
UNIT = r"(?P<unit>[A-Za-z%]{1,3})"

TORN = re.compile(r"[0-9.,]+  ")
"""The unit in columns of its own and the number without any: a padded line that lost its head."""

_FLAGS = re.ASCII | re.IGNORECASE
_MAY_BE_UNIT = r"(?: *(?:mg|g|kg|oz|ozt|lb|ct))? *"
_OVER = re.compile(rf" *\+? *(?:OL|OVER|H{{1,8}}|\^{{1,9}}){_MAY_BE_UNIT}", _FLAGS)
_UNDER = re.compile(rf" *(?:- *OL|UL|UNDER|L{{1,8}}|_{{1,9}}){_MAY_BE_UNIT}", _FLAGS)
_TROUBLE = re.compile(r" *(?:-{2,10}|NAN|E(?:RR(?:OR)?)?[ .:/-]*[0-9]{0,3})" + _MAY_BE_UNIT, _FLAGS)


def measured(match: re.Match[str], units: Mapping[str, str]) -> tuple[Number, str] | None:
    """The groups `number` and `unit` of a match; None when either is none in this family."""
    value, unit = number(match["number"]), units.get(match["unit"].lower())
    return None if value is None or unit is None else (value, unit)


def spoken(text: str) -> Meaning | None:
    """A line that holds a word or marks where the number would stand, as displays show them."""
    if _OVER.fullmatch(text):
        return out_of_range(below=False)
    if _UNDER.fullmatch(text):
        return out_of_range(below=True)
    return trouble() if _TROUBLE.fullmatch(text) else None


def columns(match: re.Match[str], units: Mapping[str, str]) -> tuple[Number, str] | None:
    """Like `measured` for fixed columns: blanks round the unit and brackets round the last digit mean nothing."""
    digits = match["number"].replace("[", "").replace("]", "").strip()
    if " " in digits.lstrip("+- "):  # a blank between digits is a lost digit
        return None
    value, unit = number(digits), units.get(match["unit"].strip().lower())
    return None if value is None or unit is None else (value, unit)
