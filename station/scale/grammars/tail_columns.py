"""digits-tail, value-unit-s, short-14, blank-18: fixed columns with unit and status at the end of the line."""

from __future__ import annotations

import re

from station.scale.grammars.parts import columns
from station.scale.meaning import Meaning, aside, load, trouble
from station.scale.number import number
from station.scale.units import BALANCE

_TAIL = re.compile(
    r"(?P<sign>[+-])(?P<digits>(?= *[0-9])[ 0-9./]{7,8})(?P<unit>[A-Za-z% ]{2})[ LGH](?P<status>[SUE ])", re.ASCII
)
_TAIL_UNITS = {**BALANCE, "ot": "ozt", "dw": "dwt", "gr": "gn", "mo": "mom", "to": "tola", "l": "lb"}
_DONE = re.compile(r"A[0-9]{2}", re.ASCII)
_REFUSED = re.compile(r"E[0-9]{2}", re.ASCII)
_TAIL_STABLE = {"S": True, "U": False, " ": None}

_UNIT_S = re.compile(r"(?P<number>[ -][ 0-9.]{8})(?P<unit>[A-Za-z% ]{3})(?P<status>[S ]?)", re.ASCII)
_SHORT = re.compile(r"(?P<number>[ +-]{2}[ 0-9.]{7})(?P<unit>[A-Za-z% ]{3})", re.ASCII)
_BLANK = re.compile(r"[ M](?P<number>[ -][ 0-9.-]{10})(?: (?P<unit>[A-Za-z% ]{0,3}))?", re.ASCII)
_BLANK_LONG, _BLANK_SHORT = 16, (12, 13)
_NUMBERED = re.compile(r"[0-9]{5}(?P<number>[ 0-9.-]{14,17}?) ?(?P<unit>[A-Za-z%]{1,3}) *", re.ASCII)
_ERROR = re.compile(r" *Error *", re.ASCII)


def digits_tail(text: str) -> Meaning | None:
    """`+00999.9 G S`: number in seven or eight columns, unit in two capitals, limit result, S U or E.

    A blank stands for the point of a whole number; a slash may part the auxiliary digit.
    """
    if _DONE.fullmatch(text):
        return aside()
    if _REFUSED.fullmatch(text):
        return trouble()
    found = _TAIL.fullmatch(text)
    unit = None if found is None else _TAIL_UNITS.get(found["unit"].strip().lower())
    if found is None or unit is None:
        return None
    if found["status"] == "E":
        return trouble(unit)
    if not re.fullmatch(r" *[0-9]+(?:\.[0-9]*(?:/[0-9])?)? ?", found["digits"]):
        return None
    value = number(found["sign"] + found["digits"].replace("/", "").strip())
    return None if value is None else load(value, unit, _TAIL_STABLE[found["status"]])


def value_unit_s(text: str) -> Meaning | None:
    """`   999.99 g S`: thirteen columns, S in the last one when the scale calls the load stable, else blank or cut
    off."""
    found = _UNIT_S.fullmatch(text)
    both = None if found is None else columns(found, BALANCE)
    if found is None or both is None:
        return None
    return load(*both, True if found["status"] == "S" else None)


def short_14(text: str) -> Meaning | None:
    """`    99.9 g  `: sign in two columns, number in seven, unit in three; it never says whether the load is at
    rest."""
    found = _SHORT.fullmatch(text)
    both = None if found is None else columns(found, BALANCE)
    return None if both is None else load(*both, None)


def blank_18(text: str) -> Meaning | None:
    """`        99.9 g  `: sixteen columns whose unit is blank while the load moves, or a shorter line then.

    A print form puts a running number of five digits in front and says nothing of rest.
    """
    if _ERROR.fullmatch(text):
        return trouble()
    if (found := _BLANK.fullmatch(text)) and len(text) in (_BLANK_LONG, *_BLANK_SHORT):
        said = (found["unit"] or "").strip().lower()
        value = number(found["number"])
        if value is None or not found["number"].rstrip()[-1:].isdigit():
            return None
        if not said:
            return load(value, None, False)
        unit = BALANCE.get(said)
        return None if unit is None or len(text) != _BLANK_LONG else load(value, unit, True)
    found = _NUMBERED.fullmatch(text)
    both = None if found is None else columns(found, BALANCE)
    return None if both is None else load(*both, None)
