"""Lengths as a person reads them: three figures, no needless zeros."""

from __future__ import annotations

import math

from station.texts import decimal


def figures(value: float) -> str:
    """Three figures, or one decimal from 100 on: "120", "4.72", "1.2345e7" never; with the mark of the language."""
    if value == 0:
        return "0"
    places = 1 if abs(value) >= 100 else max(0, min(6, 2 - math.floor(math.log10(abs(value)))))
    text = f"{value:.{places}f}"
    return decimal(text.rstrip("0").rstrip(".")) if "." in text else text


def length(mm: float) -> str:
    """ "120 mm" """
    return f"{figures(mm)} mm"
