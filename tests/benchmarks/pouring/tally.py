"""What came of many pours, in a line."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

Array = Any


@dataclass(frozen=True, slots=True)
class Pours:
    """What lay in the cup after the first stop and in the end (g), seconds until accepted (nan: never), stops."""

    first_g: Array
    final_g: Array
    took_s: Array
    attempts: Array


def joined(pours: list[Pours]) -> Pours:
    return Pours(*(np.concatenate([getattr(p, name) for p in pours]) for name in Pours.__slots__))


def chosen(pours: Pours, which: Array) -> Pours:
    return Pours(*(getattr(pours, name)[which] for name in Pours.__slots__))


def line(label: str, pours: Pours, target_g: float, tolerance_g: float) -> str:
    """Shares in %, the median error of the first stop in % of the target, the mean time."""
    first, final = pours.first_g - target_g, pours.final_g - target_g
    share = lambda which: 100 * float(np.mean(which))  # noqa: E731
    lost = int(np.isnan(pours.took_s).sum())
    median = 100 * float(np.nanmedian(np.abs(first))) / target_g
    return (
        f"{label:<16} n {len(final):5d}  first stop {share(np.abs(first) <= tolerance_g):5.1f}  accepted in "
        f"{share(np.abs(final) <= tolerance_g):5.1f}  over {share(final > tolerance_g):4.1f} "
        f"(of them at once {share(first > tolerance_g):4.1f})  median {median:4.2f} %  "
        f"{float(np.nanmean(pours.took_s)):5.1f} s  stops {float(np.mean(pours.attempts)):4.2f}  not accepted {lost}"
    )
