"""Numbers as people write them before a unit: "62.4", "62,4", "1 1/2", "1-1/2", "¾", ".5", exactly."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from station.texts import decimal

LONGEST = 200
"""Characters that a quantity may have; no number of a bench needs more."""

_THOUSANDS = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}")
_VULGAR = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
_WRITTEN = re.compile(
    rf"""\s*(?P<sign>[+-]?)
    (?: (?: (?P<whole>\d+) (?:\s+|\s*-\s*) )? (?P<over>\d+) \s*[/⁄]\s* (?P<under>\d+)
      | (?P<plain>\d*) \s* (?P<vulgar>[{_VULGAR}])
      | (?P<decimal>\d+(?:[.,]\d+)?|\.\d+) )
    \s*(?P<rest>\S.*?)?\s*""",
    re.VERBOSE | re.DOTALL,
)


class MayBeThousands(ValueError):
    """A comma before three digits: 1,500 is 1.5 to one reader and 1500 to another, where a point marks decimals."""

    def __init__(self, number: str) -> None:
        super().__init__(number)
        self.whole = number.replace(",", "")
        self.decimal = number.replace(",", ".")


@dataclass(frozen=True, slots=True)
class Written:
    """A number and what stands after it."""

    number: Fraction
    rest: str


def written(text: str) -> Written | None:
    """The number that begins a text, exactly, and the rest; None where there is none.

    Raises MayBeThousands for "1,500": a batch must not hang on which of the two it means. Not in a language that
    marks decimals with a comma, in which the station itself writes so.
    """
    found = _WRITTEN.fullmatch(text) if len(text) <= LONGEST else None
    if found is None:
        return None
    if found["decimal"] is not None:
        if decimal(".") != "," and _THOUSANDS.fullmatch(found["sign"] + found["decimal"]):
            raise MayBeThousands(found["sign"] + found["decimal"])
        number = Fraction(Decimal(found["decimal"].replace(",", ".")))
    elif found["vulgar"] is not None:
        part = Fraction(unicodedata.numeric(found["vulgar"])).limit_denominator(10)
        number = int(found["plain"] or 0) + part
    else:
        under = int(found["under"])
        if under == 0 or (found["whole"] is not None and int(found["over"]) >= under):
            return None
        number = int(found["whole"] or 0) + Fraction(int(found["over"]), under)
    return Written(-number if found["sign"] == "-" else number, found["rest"] or "")
