"""status-mode-commas: `ST,GS,+  9.999kg` — status, mode, sign, number, unit glued, after a blank or after a comma.

Status ST stable, US moving, OL over, UL under, TL not level; mode GS/G gross, NT/N net, TR/T tare, PT preset
tare, TW/TN totals. A bus address may stand in front. Relatives leave out the second comma, put the flags last,
insert a station byte and a byte of lamp bits, or send net, preset tare and pieces as fields of one line.
"""

from __future__ import annotations

import re

from station.scale.grammars.parts import UNIT, VALUE, measured
from station.scale.meaning import Meaning, Mode, aside, load, out_of_range, trouble
from station.scale.number import NUMBER, UNSIGNED
from station.scale.units import PLAIN

_STATUS = r"\x02?(?:[0-9]{1,2})?(?P<status>ST|US|OL|UL|TL)"
_MODE = r"(?P<mode>GS|NT|TR|TW|TN|PT|G|N|T)"
# What may stand between mode and number: a comma, or at least a blank or the sign. The lamp byte always has
# bit 7 set, so it cannot be taken for a digit.
_GAP = r" ?(?:,|(?=[ +-]))"
_LAMPS = r",[ -~][\x80-\xff],"
_LOAD = re.compile(rf"{_STATUS},{_MODE}(?:{_LAMPS}|{_GAP}){VALUE} *,? *{UNIT} *", re.ASCII)
_RANGE = re.compile(
    rf"{_STATUS},{_MODE}(?:{_LAMPS}|{_GAP}|(?= *$)) *(?P<sign>[+-])? *(?:{UNSIGNED})? *,? *"
    r"(?P<unit>[A-Za-z%]{1,3})? *",
    re.ASCII,
)
_FIELDS = re.compile(rf"[0-9]{{1,2}}(?P<status>ST|US),{VALUE},(?:PT)?{NUMBER}, *[0-9]+, *{UNIT} *", re.ASCII)
_FIELDS_RANGE = re.compile(r"[0-9]{1,2}(?P<status>OL|UL|TL),[ 0-9.,PT+-]*,(?P<unit>[A-Za-z%]{1,3}) *", re.ASCII)
_LAST = re.compile(rf"{VALUE} *{UNIT},{_MODE},(?P<status>ST|US|OL|UL|TL) *", re.ASCII)
_COUNT = re.compile(rf"(?:PCS|PERC): *(?P<number>{UNSIGNED}) *(?P<unit>pcs|%) *", re.ASCII)
_ERROR = re.compile(r"ERR[0-9]{2}", re.ASCII)

_MODES = {"G": Mode.GROSS, "N": Mode.NET, "T": Mode.TARE, "P": Mode.TARE}
_STABLE = {"ST": True, "US": False}


def status_mode_commas(text: str) -> Meaning | None:
    """The meaning of one line; None when it does not fit the layout."""
    found = _LAST.fullmatch(text) or _LOAD.fullmatch(text)
    if found and found["status"] in _STABLE:
        return _load(found, found["mode"])
    ranged = found or _RANGE.fullmatch(text) or _FIELDS_RANGE.fullmatch(text)
    if ranged and ranged["status"] not in _STABLE:
        return _no_load(ranged)
    if found := _FIELDS.fullmatch(text):
        return _load(found, "NT")
    if found := _COUNT.fullmatch(text):
        return _load(found, None)
    return trouble() if _ERROR.fullmatch(text) else None


def _load(found: re.Match[str], mode: str | None) -> Meaning | None:
    both = measured(found, PLAIN)
    if both is None:
        return None
    stable = _STABLE.get(found.groupdict().get("status", ""))
    if mode is None or mode in ("TW", "TN"):
        return aside(*both, stable)
    return load(*both, stable, _MODES[mode[0]])


def _no_load(found: re.Match[str]) -> Meaning:
    said = found.groupdict()
    unit = PLAIN.get((said["unit"] or "").lower())
    mode = _MODES[said.get("mode", "N")[0]]
    if said["status"] == "TL":
        return trouble(unit, mode)
    negative = "-" in (said.get("sign") or said.get("number") or "")
    return out_of_range(said["status"] == "UL" or negative, unit, mode)
