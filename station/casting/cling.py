"""Cling: what stays in a poured-out cup, as a percentage of what it held."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import fmean

REMEMBERED = 5
"""How many emptied cups count: enough to average, few enough to follow a changed habit."""


def cling_percent(sheet_percent: float, observed_percent: Sequence[float]) -> float:
    """The allowance: the mean of the last observed cups, or the sheet's value while there are none."""
    lately = list(observed_percent)[-REMEMBERED:]
    return fmean(lately) if lately else sheet_percent


def with_allowance(transferred_g: float, percent: float) -> float:
    """Mass to weigh so that `transferred_g` leaves the cup when `percent` % of the weighed mass stays in it."""
    return transferred_g / (1 - percent / 100)
