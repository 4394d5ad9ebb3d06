"""Mass: whole milligrams, so that sums and comparisons are exact."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal

from station.texts import decimal


@dataclass(frozen=True, order=True, slots=True)
class Mass:
    """A mass in whole milligrams. May be negative (a pan lighter than at tare)."""

    mg: int

    @classmethod
    def grams(cls, value: str | int | Decimal) -> Mass:
        """The mass nearest to `value` grams, given exactly (text, integer or Decimal, never a float)."""
        return cls(int((Decimal(value) * 1000).to_integral_value(ROUND_HALF_EVEN)))

    @classmethod
    def nearest(cls, grams: float) -> Mass:
        """The mass nearest to a computed quantity in grams."""
        return cls(round(grams * 1000))

    @property
    def g(self) -> float:
        """Grams as a plain number, for computing ratios and drawing; never for comparing weighings."""
        return self.mg / 1000

    def __add__(self, other: Mass) -> Mass:
        return Mass(self.mg + other.mg)

    def __sub__(self, other: Mass) -> Mass:
        return Mass(self.mg - other.mg)

    def __neg__(self) -> Mass:
        return Mass(-self.mg)

    def __abs__(self) -> Mass:
        return Mass(abs(self.mg))

    def times(self, factor: float) -> Mass:
        """Scaled by a pure number, rounded to the nearest milligram."""
        return Mass(round(self.mg * factor))

    def text(self, step: Mass | None = None) -> str:
        """As a person reads it: grams with the decimals that a scale of readability `step` shows."""
        decimals = 1
        if step is not None and step.mg > 0:
            decimals = next((n for n in range(4) if step.mg % 10 ** (3 - n) == 0), 3)
        return decimal(f"{Decimal(self.mg) / 1000:.{decimals}f} g")


ZERO = Mass(0)
