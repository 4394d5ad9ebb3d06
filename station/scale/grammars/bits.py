"""soh-block, stx-bits, ff-bcd, mirror-equals: frames of fixed length, three of them with bits or check bytes.

The texts are bytes mapped one to one to characters.
"""

from __future__ import annotations

import re
from functools import reduce

from station.scale.grammars.parts import columns
from station.scale.meaning import Meaning, Mode, aside, load, out_of_range, trouble
from station.scale.number import Number, number
from station.scale.units import PLAIN

SOH_BLOCK_LENGTH = 15
STX_BITS_LENGTH = 17

_BLOCK = re.compile(
    r"\x01\x02(?P<state>[SU])(?P<number>[ F-][ 0-9.]{6})(?P<unit>[A-Za-z ]{2})(?P<check>[\x00-\xff])\x03\x04",
    re.ASCII,
)


def soh_block(text: str) -> Meaning | None:
    """`SOH STX S 99.999kg` check `ETX EOT`: the check byte is the XOR of status to unit; F for the sign is overload.

    ACK answers an enquiry, NAK refuses one. A wrong check byte is a fault.
    """
    if text in ("\x06", "\x15"):
        return aside() if text == "\x06" else trouble()
    found = _BLOCK.fullmatch(text)
    unit = None if found is None else PLAIN.get(found["unit"].strip().lower())
    if found is None or unit is None:
        return None
    if reduce(lambda so_far, c: so_far ^ ord(c), text[2:12], 0) != ord(found["check"]):
        return trouble()
    if found["number"][0] == "F":
        return out_of_range(below=False, unit=unit)
    both = columns(found, PLAIN)
    return None if both is None else load(*both, found["state"] == "S")


_NET, _NEGATIVE, _OUT, _MOVING, _KG, _POWER_UP = (1 << bit for bit in (0, 1, 2, 3, 4, 6))
_OTHER_UNITS = {1: "g", 2: "t", 3: "oz", 4: "ozt"}
_FIELD = 6
_FIRST_DIGIT = 4


def stx_bits_check(data: bytes) -> int:
    """The check byte of a frame up to its CR: two's complement of the sum of all its bytes, in seven bits.

    Source: common practice, no source.
    """
    return -sum(byte & 0x7F for byte in data) & 0x7F


def stx_bits(text: str) -> Meaning | None:
    """`STX abc`, six digits of weight, six of tare, `CR`, and a check byte where one is sent.

    a: bits 0-2 two more than the decimals. b: bit 0 net, 1 negative, 2 out of range, 3 moving, 4 kg not lb, 6 not
    yet set to
    zero after power-up. c: bits 0-2 another unit. Bits that should always be one are not looked at: some copies
    clear them.
    """
    if (
        len(text) not in (STX_BITS_LENGTH, STX_BITS_LENGTH + 1)
        or text[0] != "\x02"
        or text[STX_BITS_LENGTH - 1] != "\r"
    ):
        return None
    if len(text) > STX_BITS_LENGTH and ord(text[-1]) & 0x7F != stx_bits_check(text[:-1].encode("latin-1")):
        return trouble()
    a, b, c = (ord(byte) for byte in text[1:_FIRST_DIGIT])
    weight, tare = text[_FIRST_DIGIT:][:_FIELD], text[_FIRST_DIGIT + _FIELD :][:_FIELD]
    if not all(re.fullmatch(r" *[0-9]*", field) for field in (weight, tare)):
        return None
    unit = ("kg" if b & _KG else "lb") if c & 7 == 0 else _OTHER_UNITS.get(c & 7, f"unit {c & 7}")
    mode = Mode.NET if b & _NET else Mode.GROSS
    if b & _OUT:
        return out_of_range(bool(b & _NEGATIVE), unit, mode)
    value = _scaled(weight.strip(), (a & 7) - 2, bool(b & _NEGATIVE))
    if value is None:
        return None
    return aside(value, unit) if b & _POWER_UP else load(value, unit, not b & _MOVING, mode)


_BCD_OVER, _BCD_STABLE, _BCD_NEGATIVE, _BCD_UNSURE = 0x80, 0x40, 0x20, 0x10
_BCD_UNITS = {0: "kg", 1: "lb"}
_BCD_LENGTHS = (5, 6)


def ff_bcd(text: str) -> Meaning | None:
    """`FF`, status, three bytes of packed BCD (low first), and a unit byte where one is sent.

    Status: bits 0-2 decimals, 5 negative, 7 over. Stable is bit 6 with some makes and bit 4 with others: bit 6 is
    believed, bit 4 alone says nothing, so that no moving load is ever taken for one at rest.
    """
    data = text.encode("latin-1")
    if len(data) not in _BCD_LENGTHS or data[0] != 0xFF:
        return None
    status, digits = data[1], "".join(f"{byte:02x}" for byte in reversed(data[2:5]))
    unit = None if len(data) < _BCD_LENGTHS[1] else _BCD_UNITS.get(data[5])
    negative = bool(status & _BCD_NEGATIVE)
    if not digits.isdecimal() or (unit is None and len(data) == _BCD_LENGTHS[1]):
        return None
    if status & _BCD_OVER:
        return out_of_range(negative, unit)
    value = _scaled(digits, status & 7, negative)
    stable = True if status & _BCD_STABLE else None if status & _BCD_UNSURE else False
    return None if value is None else load(value, unit, stable)


_MIRRORED = re.compile(r"=(?P<digits>[0-9.]{7})(?P<sign>[-0]?)", re.ASCII)
_MIRRORED_LINE = re.compile(r"(?P<number>[0-9]+\.[0-9]+) ?(?P<unit>kg|g|lb)", re.ASCII | re.IGNORECASE)


def mirror_equals(text: str) -> Meaning | None:
    """`=99.9999-`: seven characters of number with the last digit first, then the sign; or a line `21.0kg` for 0.12 kg.

    Only a scale that is known to speak so may be read so: other scales' lines mean something else.
    """
    if found := _MIRRORED.fullmatch(text):
        if found["digits"].count(".") > 1:
            return None
        value = number(("-" if found["sign"] == "-" else "") + found["digits"][::-1])
        return None if value is None else load(value, None, None)
    found = _MIRRORED_LINE.fullmatch(text)
    value = None if found is None else number(found["number"][::-1])
    return None if found is None or value is None else load(value, PLAIN[found["unit"].lower()], None)


def _scaled(digits: str, decimals: int, negative: bool) -> Number | None:
    """Whole digits with a point `decimals` places from their end; below zero they are followed by zeros instead."""
    if not digits:
        return None
    if decimals <= 0:
        text = digits + "0" * -decimals
    else:
        padded = digits.rjust(decimals + 1, "0")
        text = f"{padded[:-decimals]}.{padded[-decimals:]}"
    return number(("-" if negative else "") + text)
