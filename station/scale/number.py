"""Numbers as scales print them: padded, signed before or after, with a point or a decimal comma."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

UNSIGNED = r"[0-9]{1,10}(?:\.[0-9]{0,7}|,[0-9]{1,5})?"
"""Digits with at most one point or decimal comma; no exponent, no second number glued on."""

NUMBER = r" *[+-]? *" + UNSIGNED
"""The same after padding, with a sign that blanks may part from its digits."""

_PADDED = re.compile(r" *([+-]?) *([0-9]{1,10})(?:\.([0-9]{0,7})|,([0-9]{1,5}))? *([+-]?) *")
"""Sign, digits, those after a point or a comma, a sign behind. A blank inside means that a digit was lost on the way,
or that there are two numbers."""

_MOST_DIGITS = 10
_FULL_FIELD = 6


@dataclass(frozen=True, slots=True)
class Number:
    """`value` keeps its sign even at zero; `decimals` is what the display resolves; `all_nines` is a filled field."""

    value: Decimal
    decimals: int
    all_nines: bool


def number(text: str) -> Number | None:
    """The number that `text` holds; None when it holds none, more than one, or more than ten digits."""
    found = _PADDED.fullmatch(text.replace("'", ""))
    if found is None:
        return None
    before, whole, pointed, after_comma, behind = found.groups()
    if before and behind:
        return None
    fraction = pointed or after_comma or ""
    digits = whole + fraction
    if len(digits) > _MOST_DIGITS:
        return None
    value = Decimal(f"{before or behind}{whole}.{fraction}")
    # Six nines and more are a full field: no bench scale stands at exactly that by chance for long.
    return Number(value, len(fraction), len(digits) >= _FULL_FIELD and not digits.strip("9"))
