"""diy-board and ticket: text meant for people, of which few lines are loads; and pieces and other instruments."""

from __future__ import annotations

import re

from station.scale.grammars.parts import TORN, columns
from station.scale.meaning import Meaning, Mode, aside, load, trouble
from station.scale.number import NUMBER, number
from station.scale.units import PLAIN, SHARES

_SKETCH = re.compile(
    rf"(?:(?:weight|load|reading|scale|mass|value|one reading)[ :=]*)?"
    rf"(?P<number>{NUMBER}) *(?P<unit>kg|mg|g|lbs?|oz)? *",
    re.ASCII | re.IGNORECASE,
)
_BROKEN = re.compile(r"(?:[A-Za-z ]+[:=] *)?-?(?:nan|inf|ovf)(?: *[a-z]{1,3})?", re.ASCII | re.IGNORECASE)
_SKETCH_UNITS = {**PLAIN, "lbs": "lb"}
_MOST_DIGITS = 8


def diy_board(text: str) -> Meaning | None:
    """`Weight: 9.999 kg` and bare numbers as hobby boards print them; None for the text they send after a reset."""
    if _BROKEN.fullmatch(text.strip()):
        return trouble()
    found = None if TORN.match(text) else _SKETCH.fullmatch(text)
    if found is None or sum(c.isdigit() for c in found["number"]) > _MOST_DIGITS:
        return None
    if found["unit"] is None:
        value = number(found["number"])
        return None if value is None else load(value, None, None)
    both = columns(found, _SKETCH_UNITS)
    return None if both is None else load(*both, None)


_LABELS = {
    "": None,
    **dict.fromkeys(("net", "n", "nt", "netto", "net wt", "net weight"), Mode.NET),
    **dict.fromkeys(("gross", "g", "gr", "brutto", "gross wt", "gross weight"), Mode.GROSS),
    **dict.fromkeys(("tare", "t", "tr", "pt", "tara"), Mode.TARE),
}
_LINE = re.compile(
    rf"\x01? *(?:(?P<label>[A-Za-z][A-Za-z. ]*?) *(?:: *| +(?=[ 0-9+-])))?"
    rf"(?P<number>{NUMBER}) *(?P<unit>[A-Za-z%]{{1,3}}) *",
    re.ASCII,
)
_RECORD = re.compile(
    rf"<[0-9.]+:[0-9]{{2}} +[0-9]+ +(?P<gross>{NUMBER}) +(?P<tare>{NUMBER}) +(?P<number>{NUMBER}) *"
    r"(?P<unit>kg|g|lb)[ -;=?-~]*>",
    re.ASCII,
)


def ticket(text: str) -> Meaning | None:
    """One line of a printed block: net, gross or tare where its label says so; None for dates, numbers and words."""
    if found := _RECORD.fullmatch(text):
        both, gross, tare = columns(found, PLAIN), number(found["gross"]), number(found["tare"])
        if both is None or gross is None or tare is None or gross.value - tare.value != both[0].value:
            return None
        return load(*both, None, Mode.NET)
    found = None if TORN.match(text) else _LINE.fullmatch(text)
    both = None if found is None else columns(found, PLAIN)
    if found is None or both is None:
        return None
    label = (found["label"] or "").strip().lower()
    if label in _LABELS:
        return load(*both, None, _LABELS[label])
    return aside(*both) if both[1] in SHARES else None


_HEADED_TWICE = re.compile(r"(?:ST|US|QT|OL|UL),.*(?:ST|US|QT|OL|UL),.*", re.ASCII | re.DOTALL)


def partial(text: str) -> Meaning:
    """A piece of a line, or two lines run into one: never a load, and a fault where two heads show what happened."""
    return trouble() if _HEADED_TWICE.fullmatch(text) else aside()


def not_a_scale(_text: str) -> Meaning:
    """A line of another instrument: never a load."""
    return aside()
