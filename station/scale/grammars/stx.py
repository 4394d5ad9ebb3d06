"""stx-weight-cr, enq-five, stx-polarity, stx-xor: printable frames that begin with STX."""

from __future__ import annotations

import re
from functools import reduce

from station.scale.grammars.parts import columns
from station.scale.meaning import Meaning, Mode, aside, load, out_of_range, trouble
from station.scale.number import UNSIGNED, Number, number
from station.scale.units import PLAIN

_PLAIN = re.compile(r"\x02(?P<number>(?=[0-9.]{6,7}\Z)[0-9]{1,5}\.[0-9]{1,5})", re.ASCII)
_SIGNED = re.compile(r"\x02(?P<number>-(?=[0-9.]{5,7}\Z)[0-9]{1,5}\.[0-9]{1,5})", re.ASCII)
_LETTER = re.compile(
    rf"\x02(?P<letter>[API ]?)(?P<number>[+ -] *{UNSIGNED})(?P<unit>kg|g|lb|oz)?", re.ASCII | re.IGNORECASE
)
_STATUS = re.compile(r"\x02\?(?P<bits>[\x60-\x7f])", re.ASCII)
_MOVING, _OVER, _UNDER, _ZERO_FAULT = 1, 2, 4, 8
_LETTERS = {"P": True, "I": False, "A": None, " ": None, "": None}


def stx_weight_cr(text: str) -> Meaning | None:
    """`STX 99.999`, ended by CR: a load at rest without a unit, or `?` and a byte of bits instead of a load.

    Bits: 0 moving, 1 over, 2 under, 3 outside the zero range, 4 centre of zero. Relatives put P (at rest), I
    (moving) or A in front, end in ETX and may name the unit.
    """
    if found := _STATUS.fullmatch(text):
        bits = ord(found["bits"])
        if bits & (_OVER | _UNDER):
            return out_of_range(bool(bits & _UNDER))
        return trouble() if bits & _ZERO_FAULT else aside(stable=False if bits & _MOVING else None)
    if text in ("\x02E", "\x02F"):
        return aside()  # echo mode was begun or ended
    if found := _PLAIN.fullmatch(text) or _SIGNED.fullmatch(text):
        value = number(found["number"])
        return None if value is None else load(value, None, None if found["number"][0] == "-" else True)
    found = _LETTER.fullmatch(text)
    if found is None or not (found["letter"] or found["unit"]):
        return None
    value = number(found["number"])
    unit = None if found["unit"] is None else PLAIN[found["unit"].lower()]
    return None if value is None or value.decimals == 0 else load(value, unit, _LETTERS[found["letter"].upper()])


_FIVE = re.compile(r"\x02(?P<field>[0-9]{5}|I{5}|N{5}|S{5})", re.ASCII)


def enq_five(text: str) -> Meaning | None:
    """`STX 99999`, ended by ETX: five digits without point and unit; five I moving, N below zero, S over."""
    found = _FIVE.fullmatch(text)
    if found is None:
        return aside() if text == "\x06" else trouble() if text == "\x15" else None
    match found["field"][0]:
        case "I":
            return aside(stable=False)
        case "N" | "S" as letter:
            return out_of_range(letter == "N")
    value = number(found["field"])
    return None if value is None else load(value, None, True)


_SPACED = re.compile(
    rf"\x02(?P<number>[ +-](?=[ 0-9.]{{7}} )[ ]*{UNSIGNED}) (?P<unit>LB|KG) (?P<mode>GR|NT) (?P<state>[ MO-])", re.ASCII
)
_NAMED = re.compile(rf"\x02(?P<number>[ +-] *{UNSIGNED}) (?P<unit>kg|g|lb|oz)", re.ASCII | re.IGNORECASE)
_MEMORY = re.compile(rf"\x02 *\+ +(?P<number>{UNSIGNED}) +(?P<unit>kg|g|lb|oz)", re.ASCII | re.IGNORECASE)
_ONE_LETTER = re.compile(r"\x02(?P<number>[ +-][ 0-9.]{7})(?P<state>[GNMOUE])", re.ASCII)
_FOUR_LETTERS = re.compile(
    r"\x02(?P<number>[ +-][ 0-9.]{7})(?P<state>[GNUOE])(?P<moving>[ M])[ Z][ -~](?P<unit>[A-Za-z ]{3})", re.ASCII
)
_BARE = re.compile(rf"(?P<number>[ +-]? *{UNSIGNED})(?P<unit>[LKGT])(?P<mode>[GN])(?P<state>[ MOU-])", re.ASCII)
_MODES = {"G": Mode.GROSS, "N": Mode.NET}
_UNITS = {**PLAIN, "l": "lb", "k": "kg", "t": "t"}


def stx_polarity(text: str) -> Meaning | None:
    """`STX -  99.99 LB GR M` and its relatives: a column of sign, seven of number, letters for what kind of load it is.

    G gross, N net, M moving, O over, U under, E fault. In the form with four letters the unit is blank while the
    load moves.
    """
    if found := _SPACED.fullmatch(text):
        return _lettered(found, found["state"], found["mode"])
    if found := _BARE.fullmatch(text):
        return _lettered(found, found["state"], found["mode"])
    if found := _NAMED.fullmatch(text):
        both = columns(found, PLAIN)
        return None if both is None else load(*both, None)
    if found := _MEMORY.fullmatch(text):  # what was added to the memory, not what is on the pan
        both = columns(found, PLAIN)
        return None if both is None else aside(*both)
    found = _ONE_LETTER.fullmatch(text) or _FOUR_LETTERS.fullmatch(text)
    if found is None:
        return None
    state, unit = found["state"], found.groupdict().get("unit", "").strip().lower()
    if state in "OUE":
        return trouble() if state == "E" else out_of_range(state == "U")
    said = PLAIN.get(unit) if unit else None
    value = _padded(found["number"])
    if value is None or (unit and said is None):
        return None
    moving = state == "M" or found.groupdict().get("moving") == "M"
    return load(value, said, not moving, _MODES.get(state))


def _lettered(found: re.Match[str], state: str, mode: str) -> Meaning | None:
    both = columns(found, _UNITS)
    if both is None:
        return None
    if state in "OU-":
        return out_of_range(state in "U-", both[1], _MODES[mode[0]])
    return load(*both, state == " ", _MODES[mode[0]])


def _padded(field: str) -> Number | None:
    compact = field.strip()
    return None if " " in compact.lstrip("+- ") else number(compact)


_CHECKED = re.compile(
    r"\x02(?P<body>(?P<sign>[+-])(?P<digits>[0-9]{6})(?P<decimals>[0-6]))(?P<check>[0-9A-F]{2})", re.ASCII
)


def stx_xor(text: str) -> Meaning | None:
    """`STX +999999d HH`, ended by ETX: six digits, the number of decimals, and the XOR of those eight bytes in hex.

    A wrong check is a fault, whatever the digits say.
    """
    found = _CHECKED.fullmatch(text)
    if found is None:
        return None
    if reduce(lambda so_far, c: so_far ^ ord(c), found["body"], 0) != int(found["check"], 16):
        return trouble()
    digits, decimals = found["digits"], int(found["decimals"])
    point = f"{digits[: 6 - decimals] or '0'}.{digits[6 - decimals :]}" if decimals else digits
    value = number(found["sign"].replace("+", "") + point)
    return None if value is None else load(value, None, None)
