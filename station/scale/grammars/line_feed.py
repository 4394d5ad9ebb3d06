"""lf-status-etx and lf-flags: frames that begin with a line feed and carry bits or letters of status."""

from __future__ import annotations

import re
from decimal import Decimal

from station.scale.grammars.parts import UNIT, columns
from station.scale.meaning import Kind, Meaning, Mode, aside, compound, load, out_of_range, trouble
from station.scale.number import UNSIGNED, number
from station.scale.units import PLAIN

_LOAD_LINE = r"(?:\n(?P<load>[ -~]*)\r)?"
_FRAME = re.compile(rf"{_LOAD_LINE}\n?(?P<status>S?[0-?@-O]{{2,3}})\r", re.ASCII)
_VALUE = re.compile(rf" *(?P<number>-? *{UNSIGNED}) *{UNIT} *", re.ASCII)
_POUNDS = re.compile(rf" *(?P<sign>-)? *(?P<lb>[0-9]{{1,4}}) *lb +(?P<oz>{UNSIGNED}) *oz *", re.ASCII | re.IGNORECASE)
_NO_NUMBER = re.compile(rf" *(?P<mark>\^+|_+|-{{3,}})? *{UNIT}? *", re.ASCII)
_PRINTED = re.compile(rf" *(?P<number>-? *{UNSIGNED}) *(?P<unit>kg|g|lb|oz) *(?P<mode>GR|NT|gr|nt)[\r\n]*", re.ASCII)
_UNKNOWN = re.compile(r"\n\?\r", re.ASCII)

_MOVING, _UNDER, _OVER, _NET = 1, 1, 2, 4
_FAULTS = 0b1100
"""Of status byte 1 (memory) and 2 (other faults)."""
_ZERO_FAULT = 0b1000


def lf_status_etx(text: str) -> Meaning | None:
    """`LF 99.999LB CR LF S00 CR`, ended by ETX: the load and two or three bytes of status bits.

    Byte 1: bit 0 moving, bit 1 at zero, bits 2-3 memory faults. Byte 2: bit 0 under, bit 1 over, bits 2-3 faults.
    Byte 3: bit 2 net, bit 3 initial zero fault. One later layout has bits 0 and 1 of byte 1 the other way round; it
    cannot be told from one frame, and is read as moving where the common layout would be at rest at zero.
    """
    if _UNKNOWN.fullmatch(text):
        return trouble()
    if found := _PRINTED.fullmatch(text.removeprefix("\n")):
        both = columns(found, PLAIN)
        mode = Mode.GROSS if found["mode"].upper() == "GR" else Mode.NET
        return None if both is None else load(*both, found["mode"].isupper(), mode)
    found = _FRAME.fullmatch(text)
    return None if found is None else _with_status(found["load"], [ord(c) & 0x0F for c in found["status"].lstrip("S")])


def _with_status(shown: str | None, bits: list[int]) -> Meaning | None:
    first, second, third = (*bits, 0)[:3]
    moving = bool(first & _MOVING)
    nothing = None if shown is None else _NO_NUMBER.fullmatch(shown)
    unit = None if nothing is None or nothing["unit"] is None else PLAIN.get(nothing["unit"].lower())
    mark = "" if nothing is None else (nothing["mark"] or "")[:1]
    if second & (_OVER | _UNDER) or (mark in ("^", "_") and mark):
        return out_of_range(bool(second & _UNDER) or mark == "_", unit)
    if mark == "-" or first & _FAULTS or second & _FAULTS or third & _ZERO_FAULT:
        return trouble(unit)
    if shown is None or nothing is not None:
        return aside(unit=unit, stable=False if moving else None)
    mode = Mode.NET if third & _NET else None
    if found := _POUNDS.fullmatch(shown):
        ounces = number(found["oz"])
        if ounces is None or ounces.value >= 16:
            return None
        return load(compound(Decimal(found["lb"]), ounces, found["sign"] == "-"), "lboz", not moving, mode)
    found = _VALUE.fullmatch(shown)
    both = None if found is None else columns(found, PLAIN)
    return None if both is None else load(*both, not moving, mode)


_FLAGS = re.compile(
    r"\n(?P<state>[ ZOUEIT])[ -~](?P<mode>[GNTgnt])(?P<moving>[ M])[ -~](?P<number>[ 0-9.-]{10})(?P<unit>[A-Za-z ]{3})",
    re.ASCII,
)
_MODES = {"g": Mode.GROSS, "n": Mode.NET, "t": Mode.TARE}


def lf_flags(text: str) -> Meaning | None:
    """`LF srnmf 999999.99lb `, ended by CR: five columns of flags, ten of number, three of unit.

    s: Z at zero, O over, U under, E I T faults. n: gross, net, tare, small letters ten times finer. m: M moving.
    """
    found = _FLAGS.fullmatch(text)
    if found is None:
        return None
    mode, state = _MODES[found["mode"].lower()], found["state"]
    unit = PLAIN.get(found["unit"].strip().lower())
    if state in "OU":
        return out_of_range(state == "U", unit, mode)
    if state in "EIT" or set(found["number"].strip()) == {"-"}:
        return trouble(unit, mode)
    both = columns(found, PLAIN)
    meaning = None if both is None else load(*both, found["moving"] == " ", mode)
    return meaning if meaning is None or meaning.kind is not Kind.OTHER else None
