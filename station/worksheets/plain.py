"""Numbers as people read them: significant digits without an exponent, and a value with its spread."""

from __future__ import annotations

import math

from station.casting.digits import digits
from station.texts import number


def plain(value: float, significant: int = 5) -> str:
    """`value` as worksheets tell it, with one digit more than sentences: 0.096111, 1728, 12.5."""
    return digits(value, significant)


def with_spread(value: float, spread: float, unit: str) -> str:
    """`value` ± `spread`, both to the place of the spread's second digit: "439.6 ± 1.2 cm³" (GUM 7.2.6)."""
    if not (math.isfinite(spread) and spread > 0):
        return f"{plain(value)} {unit}"
    decimals = max(0, 1 - math.floor(math.log10(spread)))
    return f"{number(value, f'.{decimals}f')} ± {number(spread, f'.{decimals}f')} {unit}"
