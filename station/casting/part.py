"""A part that is out of its mold: its density, how it was packed, how much it shrank, how hard it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median


@dataclass(frozen=True, slots=True)
class Lengths:
    """The same length in the mold and on the part, in mm, both above zero."""

    mold_mm: float
    part_mm: float

    @property
    def shrinkage_percent(self) -> float:
        """Linear shrinkage in % of the mold: (mold − part) ÷ mold × 100; negative when the part is larger.

        As ISO 294-4 and ASTM D955 define mold shrinkage for plastics.
        """
        return (self.mold_mm - self.part_mm) / self.mold_mm * 100


def molded_density(part_g: float, cavity_cm3: float) -> float:
    """Density of a part that fills its cavity, g/cm³: mass ÷ volume. An overall density, skin and voids included
    (so named in ISO 845). Raises ZeroDivisionError for no volume."""
    return part_g / cavity_cm3


def packing_factor(molded: float, free_rise: float) -> float:
    """Molded ÷ free-rise density, both g/cm³. Trade definition; it is not overpack, see `casting.foam`."""
    return molded / free_rise


def hardness(values: Sequence[float]) -> float:
    """The hardness of a part from readings at several positions on one scale: their median.

    ISO 48-4 takes the median of five readings (from memory); ASTM D2240 leaves the choice of median or mean. Raises
    StatisticsError without a reading.
    """
    return median(values)


DOUBTFUL_BELOW = 20.0
DOUBTFUL_ABOVE = 90.0
"""Outside these a durometer's scale tells little and another one is advised: ISO 48-4 for Shore A (from memory)."""


def doubtful(value: float) -> bool:
    """Whether a reading lies where its scale tells little."""
    return value < DOUBTFUL_BELOW or value > DOUBTFUL_ABOVE
