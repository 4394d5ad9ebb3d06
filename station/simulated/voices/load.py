"""A load as a simulated scale shows it: a number with its decimals, a unit, at rest or moving, in range or not."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal

_SHIFT = {"g": 0, "kg": 3}
_GRAMS_PER = {"lb": (Decimal("453.59237"), 3), "oz": (Decimal("28.349523125"), 2)}
"""Exact by definition (international yard and pound agreement, 1959), and how many decimals more than in grams."""


@dataclass(frozen=True, slots=True)
class Load:
    """`number` in `unit` (g, kg, lb or oz); below zero, `overload` is underload."""

    number: Decimal
    unit: str
    stable: bool
    overload: bool

    @property
    def minus(self) -> bool:
        """Below zero; a negative zero is."""
        return self.number.is_signed()

    @property
    def sign(self) -> str:
        """Plus or minus."""
        return "-" if self.minus else "+"

    @property
    def blank_or_minus(self) -> str:
        """The sign column of layouts that leave out the plus."""
        return "-" if self.minus else " "

    @property
    def size(self) -> str:
        """The number without sign, all decimals kept."""
        return format(abs(self.number), "f")

    @property
    def signed(self) -> str:
        """The number, its minus sign right before it."""
        return ("-" if self.minus else "") + self.size

    @property
    def zero(self) -> bool:
        """Whether the scale shows zero, in range."""
        return not self.number and not self.overload

    @property
    def decimals(self) -> int:
        """Digits behind the point."""
        exponent = self.number.as_tuple().exponent
        return -exponent if isinstance(exponent, int) and exponent < 0 else 0

    @property
    def digits(self) -> str:
        """The number without sign and point."""
        return self.size.replace(".", "")

    @property
    def nought(self) -> str:
        """Zero with the same decimals."""
        return format(Decimal(0).scaleb(-self.decimals), "f")

    def nines(self, wide: int = 0) -> str:
        """The number filled up to `wide` characters, every digit a nine."""
        return "".join("9" if c.isdigit() else c for c in self.size.zfill(wide))

    def with_decimals(self, count: int) -> Load:
        """Rounded (or padded) to that many decimals."""
        return replace(self, number=self.number.quantize(Decimal(1).scaleb(-count)))


Say = Callable[[Load], bytes]


def shown(grams: Decimal, unit: str, stable: bool, overload: bool) -> Load:
    """What the display shows for `grams` in this unit; in kg three decimals more than in grams."""
    if unit in _SHIFT:
        return Load(grams.scaleb(-_SHIFT[unit]), unit, stable, overload)
    factor, more = _GRAMS_PER[unit]
    decimals = Load(grams, "g", stable, overload).decimals + more
    return Load(grams / factor, unit, stable, overload).with_decimals(decimals)


def just(text: bytes) -> Say:
    """The same whatever the load."""
    return lambda _load: text
