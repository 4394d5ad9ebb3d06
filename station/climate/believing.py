"""Which reading is believed: one that jumps is asked again, and so is one after the supply failed."""

from __future__ import annotations

from collections.abc import Callable

from station.climate.faults import PowerOnValue, Unsettled
from station.texts import number, t

JUMP_C = 5.0
"""Air at a bench does not change by more from one look to the next (ours, no source)."""
AGREES_C = 1.0
"""Two looks, one right after the other, mean the same when they are no further apart."""


def believed(look: Callable[[], float], last_c: float | None) -> float:
    """A temperature in °C after up to three looks; `last_c` is what the look before gave, None when it gave nothing.

    Raises what `look` raises, and Unsettled.
    """
    try:
        first = look()
    except PowerOnValue:
        # Asking made it measure, so the next answer is a real one, unless the supply has failed again.
        first = look()
        if last_c is None:
            last_c, first = first, look()
    if last_c is None or abs(first - last_c) <= JUMP_C:
        return first
    second = look()
    if abs(second - last_c) <= JUMP_C or abs(second - first) <= AGREES_C:
        return second
    raise Unsettled(
        t(
            "The temperature jumped from {last} °C to {first} °C and then to {second} °C.",
            last=number(last_c, ".1f"),
            first=number(first, ".1f"),
            second=number(second, ".1f"),
        )
    )
