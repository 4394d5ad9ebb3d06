"""How temperature drives a reaction: rate against the reference temperature, and the equivalent age of a history.

Arrhenius: k(T)/k(Tref) = exp[−(Ea/R)(1/T − 1/Tref)], temperatures in kelvin, R = 8.314462618 J/(mol K) (CODATA).
Equivalent age (ASTM C1074, eq. 2) sums those factors over time; its eq. 1 (Nurse–Saul) is linear in temperature.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from station.casting.chemistry import Chemistry
from station.texts import number, t

GAS_J_MOL_K = 8.314462618
KELVIN = 273.15

DEFAULT_KJ: dict[Chemistry, tuple[float, float]] = {
    # Published for urethanes, in kJ/mol: 20 to 40 (gelation of polyester and HTPB networks), about 56 (castor oil and
    # MDI: J. Appl. Polym. Sci. 122 (2011) 3168), 50 to 70 (castor polyester and polymeric MDI:
    # journal ISSN 0971-457X, May 2021, 336–342). Practice at 65 °C, four times as fast as at 23 °C, amounts to 27.
    Chemistry.URETHANE_FOAM: (20.0, 70.0),
    Chemistry.URETHANE_RUBBER: (20.0, 70.0),
    # No published value found: from memory, and wide for that reason.
    Chemistry.ADDITION_SILICONE: (40.0, 90.0),
    Chemistry.CONDENSATION_SILICONE: (30.0, 80.0),
}
BEYOND_TABLE_C = 3.0
"""How far outside its own table a sheet is followed, along the table's end."""
MOST_POWER = 300.0
"""e to this power still is a number, and so is its inverse."""


@dataclass(frozen=True, slots=True)
class Rate:
    """How many seconds at the reference temperature one second counts for: between `slow` and `fast`."""

    slow: float
    fast: float

    def longest(self, seconds: float) -> float:
        """The longest that a time of `seconds` at the reference temperature may take."""
        return seconds / self.slow

    def shortest(self, seconds: float) -> float:
        """The shortest that it may take."""
        return seconds / self.fast


REFERENCE = Rate(1.0, 1.0)
NOTHING = Rate(0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Unknown:
    """Nothing can be predicted; `why` is a sentence. `cold`: because it is colder than the sheet allows."""

    why: str
    cold: bool = False


@dataclass(frozen=True, slots=True)
class Kinetics:
    """What drives a system. Energies in kJ/mol, both None when nothing is known; temperatures in °C.

    `table` holds (temperature, rate against the reference) of the sheet's own times, which count before any energy.
    """

    reference_c: float
    low_kj: float | None = None
    high_kj: float | None = None
    coldest_c: float | None = None
    warmest_c: float | None = None
    table: tuple[tuple[float, float], ...] = ()

    def rate(self, celsius: float) -> Rate | Unknown:
        """The rate at a temperature, as a range."""
        if self.coldest_c is not None and celsius < self.coldest_c:
            return Unknown(
                t(
                    "At {celsius} °C nothing is predicted: the sheet asks for {coldest_c} °C at least, and "
                    "colder it may never cure.",
                    celsius=number(celsius, ".1f"),
                    coldest_c=number(self.coldest_c),
                ),
                cold=True,
            )
        if self.warmest_c is not None and celsius > self.warmest_c:
            return Unknown(
                t(
                    "At {celsius} °C nothing is predicted: the sheet ends at {warmest_c} °C.",
                    celsius=number(celsius, ".1f"),
                    warmest_c=number(self.warmest_c),
                )
            )
        if self.table:
            return self._by_table(celsius)
        if self.low_kj is None or self.high_kj is None:
            if abs(celsius - self.reference_c) <= 1:
                return REFERENCE
            return Unknown(t("Nothing says how temperature drives this material: its chemistry is not told."))
        both = (factor(self.low_kj, celsius, self.reference_c), factor(self.high_kj, celsius, self.reference_c))
        return Rate(min(both), max(both))

    def counting(self, celsius: float) -> Rate | Unknown:
        """The rate at which a cure counts: as `rate`, and nothing where it is colder than the sheet allows."""
        found = self.rate(celsius)
        return NOTHING if isinstance(found, Unknown) and found.cold else found

    def nearest(self, celsius: float) -> Rate:
        """The rate there or, where none is predicted, at the nearest temperature that has one; 1 where none has."""
        low, high = (value if value is not None else celsius for value in (self.coldest_c, self.warmest_c))
        within = min(max(celsius, low), high)
        ends = [at for at, _ in self.table] + [self.reference_c]
        told = min(max(within, min(ends) - BEYOND_TABLE_C), max(ends) + BEYOND_TABLE_C)
        tried = map(self.rate, (celsius, within, told))
        return next((found for found in tried if isinstance(found, Rate)), REFERENCE)

    def limit(self, seconds: float, celsius: float) -> float:
        """What a limit of `seconds` at the reference temperature is to be counted to: the shortest of its range.

        Only a row of the sheet's own table makes it longer, and not by more than that row says. Hotter than anything
        is predicted for, the shortest that is predicted counts.
        """
        most = seconds
        if isinstance(self.rate(celsius), Rate):
            most /= min((1.0, *(rate for _, rate in self.table)))
        return min(most, self.nearest(celsius).shortest(seconds))

    def _by_table(self, celsius: float) -> Rate | Unknown:
        # One rate a temperature: the reference is 1 by definition, and of two rows for one the faster counts.
        points = sorted((dict(sorted(self.table)) | {self.reference_c: 1.0}).items())
        low, high = points[0][0], points[-1][0]
        if not low - BEYOND_TABLE_C <= celsius <= high + BEYOND_TABLE_C:
            return self._beyond(celsius, points[0] if celsius < low else points[-1], (low, high))
        if len(points) == 1:
            return REFERENCE
        between = next(((a, b) for a, b in pairwise(points) if celsius <= b[0]), (points[-2], points[-1]))
        (cold, slower), (warm, faster) = between
        part = (_per_kelvin(cold) - _per_kelvin(celsius)) / (_per_kelvin(cold) - _per_kelvin(warm))
        found = math.exp(math.log(slower) + part * (math.log(faster) - math.log(slower)))
        return Rate(found, found)

    def _beyond(self, celsius: float, end: tuple[float, float], ends: tuple[float, float]) -> Rate | Unknown:
        """From the table's end on with the energies of its chemistry, where they are known."""
        if self.low_kj is None or self.high_kj is None:
            return Unknown(
                t(
                    "At {celsius} °C nothing is predicted: the sheet's table goes from {low} to {high} °C.",
                    celsius=number(celsius, ".1f"),
                    low=number(ends[0]),
                    high=number(ends[1]),
                )
            )
        both = [end[1] * factor(energy, celsius, end[0]) for energy in (self.low_kj, self.high_kj)]
        return Rate(min(both), max(both))


def _per_kelvin(celsius: float) -> float:
    if celsius <= -KELVIN:
        raise ValueError(
            t(
                "{celsius} °C is not above absolute zero, −273.15 °C. Give a temperature of the bench.",
                celsius=number(celsius),
            )
        )
    return 1 / (celsius + KELVIN)


def factor(energy_kj: float, celsius: float, reference_c: float) -> float:
    """Arrhenius rate at `celsius` against that at `reference_c`, for an activation energy in kJ/mol.

    Raises ValueError at or below absolute zero, and where the rates lie too far apart for a number.
    """
    power = -energy_kj * 1000 / GAS_J_MOL_K * (_per_kelvin(celsius) - _per_kelvin(reference_c))
    if abs(power) > MOST_POWER:
        raise ValueError(
            t(
                "{energy_kj} kJ/mol from {reference_c} °C to {celsius} °C is beyond any reaction at a bench. "
                "Check the energy and the temperatures.",
                energy_kj=number(energy_kj),
                reference_c=number(reference_c),
                celsius=number(celsius),
            )
        )
    return math.exp(power)


def energy_between(seconds: float, celsius: float, other_s: float, other_c: float) -> float:
    """Activation energy in kJ/mol that makes a time of `seconds` at `celsius` one of `other_s` at `other_c`.

    Arrhenius solved for the energy. Raises ValueError at or below absolute zero, or for one temperature twice.
    """
    if celsius == other_c:
        raise ValueError(t("two times at one temperature tell nothing of how temperature drives them"))
    return math.log(seconds / other_s) * GAS_J_MOL_K / (_per_kelvin(celsius) - _per_kelvin(other_c)) / 1000


History = Sequence[tuple[float, float]]
"""Spells of (seconds, °C), one after the other."""


def equivalent_age(kinetics: Kinetics, history: History) -> Rate | Unknown:
    """Seconds at the reference temperature that a history counts for, as a range of sums (ASTM C1074, eq. 2).

    A spell colder than the sheet allows counts nothing; Unknown for a spell of which nothing else is predicted.
    """
    slow = fast = 0.0
    for seconds, celsius in history:
        found = kinetics.counting(celsius)
        if isinstance(found, Unknown):
            return found
        slow, fast = slow + seconds * found.slow, fast + seconds * found.fast
    return Rate(slow, fast)


def nurse_saul(history: History, datum_c: float) -> float:
    """Temperature-time factor in °C s: Σ (T − datum) Δt; spells below the datum count nothing (ASTM C1074, eq. 1)."""
    return sum(max(0.0, celsius - datum_c) * seconds for seconds, celsius in history)
