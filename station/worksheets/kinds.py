"""Kinds of fields: how a typed text becomes a value in the station's own units."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from decimal import Decimal, InvalidOperation
from enum import Enum
from typing import Any

from station import quantities
from station.quantities import NotAQuantity
from station.texts import t

MOST_LINES = 60
MOST_TEXT = 4000
MOST_LINE = 200
"""Lines are taken apart by patterns, whose work grows faster than a line's length."""


class Kind(Enum):
    """What a field holds, and the value that `work` gets for it."""

    MASS = "mass"  # g, float
    LENGTH = "length"  # mm, float
    VOLUME = "volume"  # cm³, float
    DENSITY = "density"  # g/cm³, float
    TEMPERATURE = "temperature"  # °C, float
    TIME = "time"  # s, float
    PERCENT = "percent"  # %, float
    NUMBER = "number"  # float
    COUNT = "count"  # int, zero or more
    MONEY = "money"  # hundredths, int
    DATE = "date"  # datetime.date
    CHOICE = "choice"  # str, one of the choices
    TEXT = "text"  # str, one line
    LINES = "lines"  # tuple[str, ...], empty lines left out
    YES = "yes"  # bool


BARE: dict[Kind, str] = {
    Kind.MASS: "g",
    Kind.LENGTH: "mm",
    Kind.VOLUME: "cm3",
    Kind.DENSITY: "g/cm3",
    Kind.TEMPERATURE: "°C",
    Kind.TIME: "min",
    Kind.PERCENT: "%",
}
"""The unit that is meant where none is typed, unless a field says otherwise; the page shows it beside the field."""


def read(kind: Kind, text: str, *, bare: str | None = None, choices: tuple[str, ...] = ()) -> Any:
    """The value of a typed text. Raises NotAQuantity with a sentence."""
    unit = bare or BARE.get(kind)
    match kind:
        case Kind.MASS:
            return quantities.mass(text, bare=unit).g
        case Kind.CHOICE:
            return _choice(text, choices)
        case Kind.LINES:
            return _lines(text)
        case _ if kind in _WITH_UNIT:
            return _WITH_UNIT[kind](text, bare=unit)
        case _:
            return _PLAIN[kind](text)


def _number(text: str) -> float:
    found = re.fullmatch(r"\s*([+-]?\d+(?:[.,]\d+)?)\s*", text)
    if found is None:
        raise NotAQuantity([t('{typed} is not a number such as "1.2".', typed=repr(text))])
    return float(found.group(1).replace(",", "."))


def _count(text: str) -> int:
    if not re.fullmatch(r"\s*\d{1,6}\s*", text):
        raise NotAQuantity([t('{typed} is not a whole number such as "3".', typed=repr(text))])
    return int(text)


def _money(text: str) -> int:
    plain = re.sub(r"[^\d.,+-]", "", text).replace(",", ".")
    try:
        worth = Decimal(plain)
    except InvalidOperation:
        raise NotAQuantity([t('{typed} is not a price such as "32.50".', typed=repr(text))]) from None
    if worth < 0 or worth > 10_000_000 or worth * 100 != int(worth * 100):
        raise NotAQuantity([t("{typed} is not a price of two decimals, zero or more.", typed=repr(text))])
    return int(worth * 100)


def _date(text: str) -> date:
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise NotAQuantity([t('{typed} is not a day such as "2026-03-14".', typed=repr(text))]) from None


def _choice(text: str, choices: tuple[str, ...]) -> str:
    if text.strip() not in choices:
        raise NotAQuantity([t("{typed} must be one of {choices}.", typed=repr(text), choices=", ".join(choices))])
    return text.strip()


def _text(text: str) -> str:
    clean = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    if not clean or len(clean) > 200:
        raise NotAQuantity([t("A text of 1 to 200 characters is wanted.")])
    return clean


def _lines(text: str) -> tuple[str, ...]:
    found = tuple(line.strip() for line in re.split(r"[\n;]", text) if line.strip())
    if len(found) > MOST_LINES or len(text) > MOST_TEXT:
        raise NotAQuantity([t("At most {most} lines are taken.", most=MOST_LINES)])
    if any(len(line) > MOST_LINE for line in found):
        raise NotAQuantity([t("A line of at most {most} characters is wanted.", most=MOST_LINE)])
    return found


def _yes(text: str) -> bool:
    if text.strip().lower() not in ("yes", "no", "on", "true", "false", ""):
        raise NotAQuantity([t("{typed} must be yes or no.", typed=repr(text))])
    return text.strip().lower() in ("yes", "on", "true")


_WITH_UNIT: dict[Kind, Callable[..., float]] = {
    Kind.LENGTH: quantities.length,
    Kind.VOLUME: quantities.volume,
    Kind.DENSITY: quantities.density,
    Kind.TEMPERATURE: quantities.celsius,
    Kind.TIME: quantities.seconds,
    Kind.PERCENT: quantities.percent,
}
_PLAIN: dict[Kind, Callable[[str], Any]] = {
    Kind.NUMBER: _number,
    Kind.COUNT: _count,
    Kind.MONEY: _money,
    Kind.DATE: _date,
    Kind.TEXT: _text,
    Kind.YES: _yes,
}
NUMBERS = frozenset({*_WITH_UNIT, Kind.MASS, Kind.NUMBER, Kind.MONEY})
"""Kinds whose texts are a number, with or without a unit, and so may be written with the mark of the language."""
