"""One mix ratio told twice, by weight and by volume: whether both say the same within what was printed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from station.casting.digits import digits
from station.casting.ratio import weight_shares
from station.texts import N_, t

NOMINAL = 10
"""A ratio of whole numbers up to this ("1 : 1", "3 : 2", "10 : 1") is fixed by its maker, not rounded."""
LEAST_DECIMALS_OF_DENSITY = 1
"""A density printed as 1 means 1.0: nobody rounds a density to whole g/cm³."""


@dataclass(frozen=True, slots=True)
class Printed:
    """A number as printed: `half` is half a step of its last digit, 0 for one that is fixed rather than measured."""

    value: float
    half: float = 0.0

    def __post_init__(self) -> None:
        if not self.value > self.half >= 0:
            raise ValueError(t("every part and density of a mix ratio must be above zero"))


def printed(typed: str | float) -> Printed:
    """A number by its digits: 55 may be 54.5 to 55.5, "55.0" 54.95 to 55.05. A float has lost its last zeros."""
    exact = Decimal(typed if isinstance(typed, str) else f"{typed:.10g}")
    exponent = exact.as_tuple().exponent
    if not isinstance(exponent, int):
        raise ValueError(t("every part and density of a mix ratio must be a number"))
    return Printed(float(exact), 0.5 * 10.0 ** min(exponent, 0))


def printed_parts(parts: Sequence[str | float]) -> tuple[Printed, ...]:
    """Parts of one statement. Small whole numbers are fixed; else the 100, 10 or 1 that the others refer to is."""
    found = [printed(part) for part in parts]
    if all(part.value == round(part.value) and part.value <= NOMINAL for part in found):
        return tuple(Printed(part.value) for part in found)
    reference = next((part for power in (100.0, 10.0, 1.0) for part in found if part.value == power), None)
    return tuple(Printed(part.value) if part is reference else part for part in found)


def printed_densities(densities: Sequence[str | float]) -> tuple[Printed, ...]:
    """Densities in g/cm³ by their digits."""
    most = 0.5 * 10.0**-LEAST_DECIMALS_OF_DENSITY
    found = [printed(density) for density in densities]
    return tuple(Printed(density.value, min(density.half, most)) for density in found)


@dataclass(frozen=True, slots=True)
class Range:
    """What digits leave open: a value with the least and the most that it may be."""

    low: float
    value: float
    high: float

    def __str__(self) -> str:
        if self.high - self.low <= 1e-9 * self.value:
            return f"{digits(self.value)} g"
        return t(
            "{value} g ({low} to {high} g as printed)",
            value=digits(self.value),
            low=digits(self.low),
            high=digits(self.high),
        )


@dataclass(frozen=True, slots=True)
class Disagreement:
    """Two statements of one ratio compared, at the component (`worst`, counted from 0) where they differ most.

    `by_weight` and `by_volume` are the grams of that component to 100 g of the first one, `percent` is how far the
    second is off the first, `rounding_percent` how far it may be off by the digits printed. The shares are by weight.
    """

    percent: float
    rounding_percent: float
    worst: int
    by_weight: Range
    by_volume: Range
    weight_shares: tuple[float, ...]
    volume_as_weight_shares: tuple[float, ...]

    @property
    def agrees(self) -> bool:
        """Whether rounding alone explains the difference."""
        return self.percent <= self.rounding_percent + 1e-9

    def sentence(self, names: Sequence[str]) -> str:
        """Both numbers, how far they are apart, and whether rounding explains it."""
        said = (
            N_(
                "To 100 g of {first} the ratio by weight takes {by_weight} of {other}, the ratio by volume "
                "{by_volume}: {percent} % apart, no more than rounding explains."
            )
            if self.agrees
            else N_(
                "To 100 g of {first} the ratio by weight takes {by_weight} of {other}, the ratio by volume "
                "{by_volume}: {percent} % apart, more than rounding explains."
            )
        )
        return t(
            said,
            first=names[0],
            by_weight=self.by_weight,
            other=names[self.worst],
            by_volume=self.by_volume,
            percent=digits(self.percent, 2),
        )


def compared(by_weight: Sequence[Printed], by_volume: Sequence[Printed], densities: Sequence[Printed]) -> Disagreement:
    """Compare parts by weight with parts by volume of the same components, densities in g/cm³.

    Each component i to the first: weight_i/weight_1 against volume_i·ρ_i / (volume_1·ρ_1), by the definition of
    density. They agree where the ranges that the printed digits leave open meet.
    Raises ValueError when lengths differ or there is only one component.
    """
    if not len(by_weight) == len(by_volume) == len(densities) >= 2:
        raise ValueError(t("both ratios and the densities must name the same components"))
    found = []
    for i in range(1, len(by_weight)):
        weight = _to_hundred((by_weight[i],), (by_weight[0],))
        volume = _to_hundred((by_volume[i], densities[i]), (by_volume[0], densities[0]))
        if volume.value >= weight.value:
            open_ = (volume.value / volume.low) * (weight.high / weight.value) - 1
        else:
            open_ = 1 - (volume.value / volume.high) * (weight.low / weight.value)
        found.append((abs(volume.value / weight.value - 1) * 100, open_ * 100, i, weight, volume))
    percent, rounding, worst, weight, volume = max(found, key=lambda one: one[0] - one[1])
    return Disagreement(
        percent,
        rounding,
        worst,
        weight,
        volume,
        weight_shares([part.value for part in by_weight]),
        weight_shares([part.value for part in by_volume], [density.value for density in densities]),
    )


def _to_hundred(over: Sequence[Printed], under: Sequence[Printed]) -> Range:
    low = high = value = 100.0
    for one in over:
        low, value, high = low * (one.value - one.half), value * one.value, high * (one.value + one.half)
    for one in under:
        low, value, high = low / (one.value + one.half), value / one.value, high / (one.value - one.half)
    return Range(low, value, high)
