"""Progress of a cure: the one function through which time and temperature enter.

Equivalent age is cure time converted to the sheet's reference temperature. Here every second counts as
one second at any temperature; a dependence on temperature belongs into `rate` and nowhere else.
"""

from __future__ import annotations

from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class CureState:
    """`equivalent_s`: age in seconds at the reference temperature, reached at boot-time `as_of_s` of `boot_id`."""

    equivalent_s: float
    as_of_s: float
    boot_id: str


def rate(temperature_c: float | None, reference_c: float) -> float:
    """Seconds of equivalent age per second of time at `temperature_c` (None: not measured)."""
    del temperature_c, reference_c
    return 1.0


def advanced(
    state: CureState,
    elapsed_s: float,
    *,
    as_of_s: float,
    boot_id: str,
    temperature_c: float | None,
    reference_c: float,
) -> CureState:
    """The state `elapsed_s` seconds later, having been at `temperature_c` since then."""
    gained = max(0.0, elapsed_s) * rate(temperature_c, reference_c)
    return replace(state, equivalent_s=state.equivalent_s + gained, as_of_s=as_of_s, boot_id=boot_id)
