"""Units of mass as scales spell them, and their exact worth in grams.

Factors: NIST Special Publication 811 (2008), appendix B.8, where those printed in bold are exact:
avoirdupois pound 453.592 37 g, avoirdupois ounce 1/16 of it, troy ounce 31.103 476 8 g, metric carat 0.2 g.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from types import MappingProxyType

GRAMS_PER: Mapping[str, Decimal] = MappingProxyType(
    {
        "g": Decimal(1),
        "kg": Decimal(1000),
        "mg": Decimal("0.001"),
        "lb": Decimal("453.59237"),
        "oz": Decimal("28.349523125"),
        "lboz": Decimal("28.349523125"),
        "ozt": Decimal("31.1034768"),
        "ct": Decimal("0.2"),
    }
)
"""Grams in one unit, exactly. `lboz` counts ounces: the total of a pounds-and-ounces display."""

SHARES = frozenset({"pcs", "pct"})
"""Pieces and percent: no mass, but numbers that mean something by themselves."""

COUNTS = SHARES | {"N", "sg"}
"""Units that are no mass: pieces, percent, newton, specific gravity."""

_FOREIGN = {"mom": "mom", "dwt": "dwt", "gn": "gn", "tl": "tl", "t": "t"}
# momme, pennyweight, grain, tael, tola or tonne: masses whose worth the letters do not settle. They are kept
# as they stand and never converted, so that no line carrying one is taken for grams.

PLAIN: Mapping[str, str] = MappingProxyType(
    {u: u for u in ("g", "kg", "mg", "lb", "oz", "ozt", "ct")} | {"pcs": "pcs", "pc": "pcs", "%": "pct"}
)
"""Spelling in small letters → our name; the part that all families share."""

BALANCE: Mapping[str, str] = MappingProxyType({**PLAIN, **_FOREIGN, "n": "N", "ds": "sg"})
"""The longer list of laboratory balances."""


def grams_of(value: Decimal, unit: str) -> Decimal | None:
    """`value` of `unit` in grams, exactly; None for a unit that is no mass or has no settled worth."""
    factor = GRAMS_PER.get(unit)
    if factor is None:
        return None
    grams = value * factor
    return grams if grams else abs(grams)  # -0.00 is nothing on the pan
