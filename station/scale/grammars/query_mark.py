"""query-mark: `       99.99 g    ?` — number, unit, `?` while it moves or is too small, then G, N, T or a legend.

Widths differ from scale to scale. Relatives put the `?` in front. A line with the legend of a total, a limit
or a statistic is not the load on the pan, and a legend that is not known is taken for such.
"""

from __future__ import annotations

import re

from station.scale.grammars.parts import columns, spoken
from station.scale.meaning import Kind, Meaning, Mode, aside, load, trouble
from station.scale.number import NUMBER
from station.scale.units import BALANCE

_LOAD = re.compile(
    rf"(?P<number>{NUMBER}) +(?P<unit>[A-Za-z%]{{1,5}}) *(?P<mark>\?)? *(?P<legend>[A-Za-z0-9:/# ]{{0,12}}?) *",
    re.ASCII,
)
_FRONT = re.compile(rf"(?P<mark>\?) ?(?P<number>{NUMBER}) ?(?P<unit>[A-Za-z%]{{1,5}}) *(?P<legend>[GNT]?) *", re.ASCII)
_STAMP = re.compile(r"[0-9]{2}:[0-9]{2}:[0-9]{2}", re.ASCII)
_MODES = {
    "": None,
    "G": Mode.GROSS,
    "GROSS": Mode.GROSS,
    "N": Mode.NET,
    "NET": Mode.NET,
    "T": Mode.TARE,
    "TARE": Mode.TARE,
}
_NAMED_LOADS = frozenset({"WET WT", "DRY WT", "ACCEPT", "OVER", "UNDER"})


def query_mark(text: str) -> Meaning | None:
    """The meaning of one line; None when it does not fit the layout."""
    if found := _LOAD.fullmatch(text) or _FRONT.fullmatch(text):
        both = columns(found, BALANCE)
        if both is None:
            return None
        legend = found["legend"].strip().upper()
        if legend in _MODES:
            return load(*both, found["mark"] is None, _MODES[legend])
        if legend in _NAMED_LOADS or _STAMP.fullmatch(legend):
            return load(*both, found["mark"] is None)
        return aside(*both)
    if text.strip() == "ES":
        return trouble()
    if text.strip() == "OK!":
        return aside()
    said = spoken(text)
    return said if said is None or said.kind is not Kind.WEIGHT else None
