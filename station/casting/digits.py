"""Numbers in sentences: significant digits, never with an exponent."""

from __future__ import annotations

import math
from decimal import Decimal

from station.texts import decimal


def digits(value: float, significant: int = 4) -> str:
    """`value` to so many significant digits, without zeros at the end: 1234567 is 1235000, 0.00001234 stays."""
    if value == 0 or not math.isfinite(value):
        return f"{abs(value) if value == 0 else value:g}"
    text = f"{Decimal(f'{value:.{significant - 1}e}'):f}"
    return decimal(text.rstrip("0").rstrip(".")) if "." in text else text
