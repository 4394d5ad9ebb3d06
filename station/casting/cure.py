"""Progress of a cure: equivalent age, which is cure time converted to the sheet's reference temperature.

A cure is a minimum, so each second counts at the slowest rate of the range: later is the safe side. Where it is
colder than the sheet allows it counts nothing; where nothing else is predicted it counts as it is, or slower as far
as the sheet tells.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from station.casting.kinetics import Kinetics, Rate


@dataclass(frozen=True, slots=True)
class CureState:
    """`equivalent_s`: age in seconds at the reference temperature, reached at boot-time `as_of_s` of `boot_id`."""

    equivalent_s: float
    as_of_s: float
    boot_id: str


def cure_rate(kinetics: Kinetics, celsius: float | None) -> float:
    """Seconds of equivalent age per second of time at `celsius` (None: not measured, then time counts as it is)."""
    if celsius is None:
        return 1.0
    found = kinetics.counting(celsius)
    return found.slow if isinstance(found, Rate) else min(1.0, kinetics.nearest(celsius).slow)


def aged_s(state: CureState, elapsed_s: float, rate: float) -> float:
    """Its age in seconds `elapsed_s` seconds later, at `rate` seconds a second since then."""
    return state.equivalent_s + max(0.0, elapsed_s) * rate


def advanced(state: CureState, elapsed_s: float, *, as_of_s: float, boot_id: str, rate: float) -> CureState:
    """The state `elapsed_s` seconds later, having aged at `rate` seconds a second since then."""
    return replace(state, equivalent_s=aged_s(state, elapsed_s, rate), as_of_s=as_of_s, boot_id=boot_id)
