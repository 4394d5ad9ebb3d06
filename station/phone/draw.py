"""Where things lie on the column and the dial, as parts of a hundred. All the geometry the page needs.

The column is not to one scale: a tolerance of ± 1 % would be a line too thin to pour into. Its band
always lies at the same height and is always equally tall; what lies below it is pressed together. The
mapping rises all the way, so more in the cup is always higher on the page.
"""

from __future__ import annotations

from itertools import pairwise

from station.core.mass import Mass

BREAK = 50.0
"""Height at which the scale changes; below it lies the first nine tenths of the target."""
BAND_LOW = 70.0
BAND_HIGH = 88.0


def stretched_from(low: Mass) -> Mass:
    """Where the scale changes: below it the column is pressed together, above it stretched."""
    return Mass(max(low.mg, 0) * 9 // 10)


def column_height(net: Mass, low: Mass, high: Mass) -> float:
    """Height 0…100 of the fill for `net` in a column whose band is `low`…`high`."""
    near = stretched_from(low).mg
    top = high.mg + max(high.mg - low.mg, 1)
    marks = ((0.0, 0.0), (near, BREAK), (low.mg, BAND_LOW), (high.mg, BAND_HIGH), (top, 100.0))
    if net.mg <= 0:
        return 0.0
    for (from_mg, from_height), (to_mg, to_height) in pairwise(marks):
        if net.mg <= to_mg:
            part = (net.mg - from_mg) / (to_mg - from_mg) if to_mg > from_mg else 1.0
            return from_height + part * (to_height - from_height)
    return 100.0


def percent(height: float) -> str:
    """A height as an SVG length."""
    return f"{height:.2f}%"


def arc(fraction: float) -> str:
    """The dash pattern that fills `fraction` (0…1) of a ring whose path length is declared as 100."""
    filled = min(1.0, max(0.0, fraction)) * 100
    return f"{filled:.1f} 200"
