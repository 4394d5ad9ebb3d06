"""echo-mark: `SI ?       99.9 kg ` — command in three columns, a mark in the fourth, sign, number in nine, unit in
three.

The mark is blank at rest, `?` moving, `^` over and `v` under. A print key sends the same without the command, a bare
`^` or `v`, or mass, unit price and total without any unit. `Z D` and the like acknowledge a request.
"""

from __future__ import annotations

import re

from station.scale.grammars.parts import columns
from station.scale.meaning import Meaning, Mode, aside, load, out_of_range, trouble
from station.scale.number import UNSIGNED, number
from station.scale.units import BALANCE

_FIELD = r"(?P<number>[ -][ -]*[0-9][ 0-9.\[\]]*) (?P<unit>[A-Za-z% ]{3})"
_ANSWER = re.compile(rf"(?:S  |SI |SU |SUI)(?P<mark>[ ?^v]) {_FIELD}", re.ASCII)
_PRINTED = re.compile(rf"(?P<mark>[ ?^v]) {_FIELD}", re.ASCII)
_TARE = re.compile(rf"OT {_FIELD}", re.ASCII)
_PRICED = re.compile(rf"(?P<mark>[ ?]) (?P<number>[ -] *{UNSIGNED}) +{UNSIGNED} +{UNSIGNED} *", re.ASCII)
_LONG = re.compile(
    rf"NT (?P<mark>[ ?]) (?P<number>[ -] *{UNSIGNED}) (?P<unit>[A-Za-z ]{{3}}) *{UNSIGNED} [A-Za-z ]{{3}} *[0-9]",
    re.ASCII,
)
_BARE = re.compile(r"(?P<mark>[\^v]) *")
_DONE = re.compile(r"[A-Z][A-Z0-9]{0,2} (?:A|D|OK) *", re.ASCII)
_REFUSED = re.compile(r"[A-Z][A-Z0-9]{0,2} (?:I|E|\^|v) *|ES *", re.ASCII)
_WIDTHS = {"answer": (19, 21), "printed": (16, 18), "tare": (17, 19)}


def echo_mark(text: str) -> Meaning | None:
    """The meaning of one line; None when it does not fit the columns."""
    if (found := _ANSWER.fullmatch(text)) and len(text) in _WIDTHS["answer"]:
        return _marked(found, None)
    if (found := _PRINTED.fullmatch(text)) and len(text) in _WIDTHS["printed"]:
        return _marked(found, None)
    if (found := _TARE.fullmatch(text)) and len(text) in _WIDTHS["tare"]:
        both = columns(found, BALANCE)
        return None if both is None else load(*both, None, Mode.TARE)
    if found := _LONG.fullmatch(text):
        return _marked(found, Mode.NET)
    if found := _PRICED.fullmatch(text):
        value = number(found["number"])
        return None if value is None else load(value, None, found["mark"] == " ")
    if found := _BARE.fullmatch(text):
        return out_of_range(found["mark"] == "v")
    if _DONE.fullmatch(text):
        return aside()
    return trouble() if _REFUSED.fullmatch(text) else None


def _marked(found: re.Match[str], mode: Mode | None) -> Meaning | None:
    both = columns(found, BALANCE)
    if both is None:
        return None
    if found["mark"] in "^v":
        return out_of_range(found["mark"] == "v", both[1], mode)
    return load(*both, found["mark"] == " ", mode)
