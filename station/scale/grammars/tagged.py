"""prefix-wn, status-letter-6, colon-type, xon-frame, csv-flag, hash-print, dollar-fields, echo-label: each with
its own tag."""

from __future__ import annotations

import re

from station.scale.grammars.parts import columns, spoken
from station.scale.grammars.reply_letter import reply_letter
from station.scale.meaning import Kind, Meaning, Mode, aside, load, out_of_range, trouble
from station.scale.number import UNSIGNED, number
from station.scale.units import PLAIN

_WN = re.compile(r"w(?P<mode>[nw])(?P<number>(?=[0-9.-]{7}[a-z])-?[0-9]+\.?[0-9]*)(?P<unit>kg|g|lb)", re.ASCII)


def prefix_wn(text: str) -> Meaning | None:
    """`wn999.999kg`: wn net, ww gross, seven characters of zero-padded number."""
    found = _WN.fullmatch(text)
    both = None if found is None else columns(found, PLAIN)
    return (
        None if found is None or both is None else load(*both, None, Mode.NET if found["mode"] == "n" else Mode.GROSS)
    )


_SIX = re.compile(r"(?P<state>[A-E])(?P<number>[ 0-9-]{6})", re.ASCII)


def status_letter_6(text: str) -> Meaning | None:
    """`A  9999`: A at rest, B at rest with tare, C and D the same moving, E out of range; six digits without a
    point."""
    found = _SIX.fullmatch(text)
    if found is None:
        return None
    if found["state"] == "E":
        return trouble()
    field = found["number"].strip()
    value = number(field) if re.fullmatch(r"-? *[0-9]+", field) else None
    return (
        None
        if value is None
        else load(value, None, found["state"] in "AB", Mode.NET if found["state"] in "BD" else None)
    )


_COLON = re.compile(r":W(?P<number>[ -][ 0-9.]{6})(?P<unit>[A-Za-z ]{2})(?P<state>[S ])[L ]", re.ASCII)


def colon_type(text: str) -> Meaning | None:
    """`:W 999.99kgS `: W a weight, M a message; S at rest; L the battery is low."""
    if text[:2] == ":M":
        said = spoken(text[2:])
        return said or aside()
    found = _COLON.fullmatch(text)
    both = None if found is None else columns(found, PLAIN)
    return None if found is None or both is None else load(*both, found["state"] == "S")


_XON = re.compile(r"\x11(?P<number>[ -][ 0-9.]{9})(?P<unit>[A-Za-z% ]{3,4})", re.ASCII)


def xon_frame(text: str) -> Meaning | None:
    """DC1, sign, nine digits, unit in four columns, ended by DC3; it never says whether the load is at rest."""
    if text == "\x06":
        return aside()
    found = _XON.fullmatch(text)
    both = None if found is None else columns(found, PLAIN)
    return None if both is None else load(*both, None)


_POINTED = r"[ +-]*[0-9]{1,10}(?:\.[0-9]{0,7})?"
_CSV = re.compile(rf"(?P<flag>[01]),(?P<gross>{_POINTED}),(?P<tare>{_POINTED}),(?P<net>{_POINTED})", re.ASCII)
_CSV_RANGE = re.compile(r"[01](?:, *(?P<sign>-)? *ol){3}", re.ASCII | re.IGNORECASE)


def csv_flag(text: str) -> Meaning | None:
    """`0,999.999,999.999,999.999`: 0 at rest or 1 moving, then gross, tare and net.

    Gross less tare must be net, within the rounding of three displays; otherwise a digit was lost on the way.
    """
    if found := _CSV_RANGE.fullmatch(text):
        return out_of_range(found["sign"] == "-")
    found = _CSV.fullmatch(text)
    if found is None:
        return None
    gross, tare, net = number(found["gross"]), number(found["tare"]), number(found["net"])
    if gross is None or tare is None or net is None or not gross.decimals == tare.decimals == net.decimals:
        return None
    if abs(gross.value - tare.value - net.value).scaleb(net.decimals) > 2 * 5:
        return None
    return load(net, None, found["flag"] == "0", Mode.NET)


_HASH = re.compile(
    r"(?P<number>(?=[ 0-9.+-]{8} )[ ]*[+-][0-9.]+) (?P<filter>[ FSM])(?P<unit>G)(?P<state>[S ])", re.ASCII
)


def hash_print(text: str) -> Meaning | None:
    """` +999.99  GS`: sign next to the first digit, the letter of the filter (S is slow), unit G, S at rest or
    blank."""
    found = _HASH.fullmatch(text)
    both = None if found is None else columns(found, PLAIN)
    return None if found is None or both is None else load(*both, found["state"] == "S")


_DOLLAR = re.compile(
    r"\$(?P<number>[ -][ 0-9.]{8}) (?P<tare>[ -][ 0-9.]{8}) (?P<unit>[A-Za-z ]{2}) [0-9A-Fa-f]{4}", re.ASCII
)


def dollar_fields(text: str) -> Meaning | None:
    """`$   99.999    99.999 kg 0000`: net, tare, unit, and four hexadecimal digits whose bits are not documented."""
    found = _DOLLAR.fullmatch(text)
    both = None if found is None else columns(found, PLAIN)
    if found is None or both is None or number(found["tare"]) is None:
        return None
    return load(*both, None, Mode.NET)


_ECHO = re.compile(rb"(?!E[STL]\Z)[A-Z]{1,3}[0-9]?")
_LABELLED = re.compile(
    rf"(?:[A-Z]{{1,3}}(?=[A-Z]))?(?P<label>G?ross|N?et|T?are|C?ount|Piece weight)"
    rf"(?P<number> *-? *{UNSIGNED}) +(?P<unit>[A-Za-z]{{1,6}}) *",
    re.ASCII,
)
_ECHO_UNITS = {**PLAIN, "pieces": "pcs", "piece": "pcs"}
_LABEL_MODES = {"ross": Mode.GROSS, "et": Mode.NET, "are": Mode.TARE}


def is_echo(line: bytes) -> bool:
    """Whether a line is but the echo of a request: a few capitals."""
    return _ECHO.fullmatch(line) is not None


def echo_label(text: str) -> Meaning | None:
    """`SGWGross   9.999 lb`: the request comes back in front of the answer, glued to it or as a line before it.

    The echo sometimes lacks its first letters. The answer is a word with its load, or that of `reply_letter`.
    """
    echo, parted, answer = text.partition("\r\n")
    if parted and not is_echo(echo.encode("latin-1")):
        return None
    line = answer if parted else text
    if found := _LABELLED.fullmatch(line):
        both = columns(found, _ECHO_UNITS)
        if both is None:
            return None
        mode = next((mode for end, mode in _LABEL_MODES.items() if found["label"].endswith(end)), None)
        return aside(*both) if mode is None else load(*both, None, mode)
    said = reply_letter(line)
    return said if parted or said is None or said.kind is not Kind.WEIGHT else None
