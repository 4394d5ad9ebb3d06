"""Chemistries of casting systems, and how strongly temperature drives each where its sheet does not say."""

from __future__ import annotations

from enum import Enum


class Chemistry(Enum):
    """What kind of system a material is."""

    ADDITION_SILICONE = "addition-cure silicone"
    CONDENSATION_SILICONE = "condensation-cure silicone"
    URETHANE_FOAM = "urethane foam"
    URETHANE_RUBBER = "urethane rubber"
    OTHER = "other"

    @property
    def isocyanate(self) -> bool:
        """Whether one of its components is an isocyanate."""
        return self in (Chemistry.URETHANE_FOAM, Chemistry.URETHANE_RUBBER)
