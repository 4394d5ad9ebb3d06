"""Equivalents of isocyanate and polyol: guidance for those whose sheet gives NCO % and OH number, no more.

Equivalent weight of an isocyanate = 4202 ÷ % NCO (NCO = 42.0168 g/mol), of a polyol = 56 100 ÷ (OH number + acid
number), of water 18.01528 ÷ 2. Index = 100 × isocyanate equivalents ÷ all equivalents that take isocyanate. As in
the formula pages of the polyurethane trade associations; ASTM D7997 defines the index likewise.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from station.errors import Refused
from station.texts import number, t

NCO_G_MOL, KOH_MG_MOL, WATER_G_MOL = 42.02, 56_100.0, 18.01528
GAS_J_MOL_K = 8.314462618


def isocyanate_weight(nco_percent: float) -> float:
    """Equivalent weight in g/eq from % NCO. Raises Refused outside 1 to 60 %."""
    if not 1 <= nco_percent <= 60:
        raise Refused(
            t("An isocyanate of {nco_percent} % NCO is none.", nco_percent=number(nco_percent)),
            t("Sheets give 5 to 50 %."),
        )
    return NCO_G_MOL * 100 / nco_percent


def polyol_weight(oh_number: float, acid_number: float = 0.0) -> float:
    """Equivalent weight in g/eq from OH and acid number (mg KOH/g). Raises Refused below zero or above 2000."""
    if not (0 < oh_number <= 2000 and 0 <= acid_number < 200):
        raise Refused(
            t("An OH number of {oh_number} mg KOH/g is none.", oh_number=number(oh_number)), t("Sheets give 20 to 800.")
        )
    return KOH_MG_MOL / (oh_number + acid_number)


def water_weight() -> float:
    """Equivalent weight of water in g/eq: one mole takes two NCO (18 instead of 18.015 is a known slip)."""
    return WATER_G_MOL / 2


@dataclass(frozen=True, slots=True)
class Taker:
    """Something that takes up isocyanate: `mass_g` of `weight` g/eq."""

    mass_g: float
    weight: float

    @property
    def equivalents(self) -> float:
        """How many equivalents it holds."""
        return self.mass_g / self.weight


def isocyanate_needed(takers: Sequence[Taker], weight: float, index: float) -> float:
    """Mass of isocyanate in g for an index (100: as much as there is to take it)."""
    if index <= 0:
        raise Refused(t("The index must be above zero."), t("Sheets aim at 95 to 110 for most cast systems."))
    return index / 100 * weight * sum(taker.equivalents for taker in takers)


def index_of(isocyanate_g: float, weight: float, takers: Sequence[Taker]) -> float:
    """The index that these masses give. Raises Refused when there is nothing to take the isocyanate."""
    room = sum(taker.equivalents for taker in takers)
    if room <= 0:
        raise Refused(t("There is nothing to take the isocyanate."), t("Type the mass of the polyol side."))
    if isocyanate_g < 0:
        raise Refused(t("A mass of isocyanate below zero is none."), t("Type what was weighed."))
    return 100 * isocyanate_g / weight / room


def index_after(index: float, *, isocyanate_error_percent: float = 0.0, polyol_error_percent: float = 0.0) -> float:
    """The index after weighing errors of either side: it goes with A ÷ B."""
    return index * (1 + isocyanate_error_percent / 100) / (1 + polyol_error_percent / 100)


def gas_litres(water_g: float, celsius: float = 23.0, kpa: float = 101.325) -> float:
    """Carbon dioxide in litres from water that reacts: one mole of gas for one mole of water, as an ideal gas."""
    return water_g / WATER_G_MOL * GAS_J_MOL_K * (celsius + 273.15) / kpa


def can_pressure_kpa(water_g: float, headspace_cm3: float, celsius: float = 23.0) -> float:
    """Rise of pressure in kPa in a closed can with this room above the liquid, as an ideal gas. Raises Refused."""
    if water_g < 0:
        raise Refused(t("Water below zero is none."), t("Type the mass of water that got into the can."))
    if headspace_cm3 <= 0:
        raise Refused(t("A can without room above the liquid cannot be reckoned."), t("Type the room left in cm³."))
    return water_g / WATER_G_MOL * GAS_J_MOL_K * (celsius + 273.15) / (headspace_cm3 / 1000)
