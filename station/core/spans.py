"""Times in words: as a sheet prints them, about how long, and between two."""

from __future__ import annotations

from station.casting.digits import digits
from station.texts import t

_UNITS = (("d", 86400.0), ("h", 3600.0), ("min", 60.0))


def span(seconds: float) -> str:
    """A time in the unit in which people say it: 50 s, 15 min, 6 h, 3 d."""
    for unit, worth in _UNITS:
        if seconds >= worth * (2 if unit == "d" else 1) and seconds % (worth / 2) == 0:
            return f"{digits(seconds / worth, 7)} {unit}"
    return f"{digits(seconds, 7)} s"


def about(seconds: float) -> str:
    """A time to three digits, in the largest unit of which it is two or more: 33.4 s, 12 min, 4.62 h."""
    for unit, worth in _UNITS:
        if seconds >= 2 * worth:
            return f"{digits(seconds / worth, 3)} {unit}"
    return f"{digits(seconds, 3)} s"


def between(low_s: float, high_s: float) -> str:
    """Two times as a range, or as one where they read alike."""
    return (
        about(low_s)
        if about(low_s) == about(high_s)
        else t("{low_s} to {high_s}", low_s=about(low_s), high_s=about(high_s))
    )
