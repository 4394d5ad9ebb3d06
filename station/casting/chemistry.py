"""Chemistries of casting systems, and how strongly temperature drives each where its sheet does not say."""

from __future__ import annotations

from enum import Enum

from station.texts import N_


class Chemistry(Enum):
    """What kind of system a material is."""

    ADDITION_SILICONE = N_("addition-cure silicone")
    CONDENSATION_SILICONE = N_("condensation-cure silicone")
    URETHANE_FOAM = N_("urethane foam")
    URETHANE_RUBBER = N_("urethane rubber")
    OTHER = N_("other")

    @property
    def isocyanate(self) -> bool:
        """Whether one of its components is an isocyanate."""
        return self in (Chemistry.URETHANE_FOAM, Chemistry.URETHANE_RUBBER)
