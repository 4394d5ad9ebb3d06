"""Numbers as people read them: significant digits without an exponent, and a value with its spread."""

from __future__ import annotations

import math
from decimal import Decimal


def plain(value: float, digits: int = 5) -> str:
    """`value` with `digits` significant digits and without zeros at the end: 0.096111, 1728, 12.5."""
    if value == 0 or not math.isfinite(value):
        return f"{abs(value) if value == 0 else value:g}"
    text = f"{Decimal(f'{value:.{digits - 1}e}'):f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def with_spread(value: float, spread: float, unit: str) -> str:
    """`value` ± `spread`, both to the place of the spread's second digit: "439.6 ± 1.2 cm³" (GUM 7.2.6)."""
    if not (math.isfinite(spread) and spread > 0):
        return f"{plain(value)} {unit}"
    decimals = max(0, 1 - math.floor(math.log10(spread)))
    return f"{value:.{decimals}f} ± {spread:.{decimals}f} {unit}"
