"""Tolerances of scales in the United States: NIST Handbook 44 (2023), section 2.20, counted in divisions d.

Its steps differ from OIML R 76: at 5 000 divisions of class III, R 76 allows 1.5 e at verification and
Handbook 44 2.5 d at acceptance.
"""

from __future__ import annotations

import math
from enum import StrEnum

from station.errors import Refused
from station.metrology.given import above_zero, not_below_zero
from station.texts import t


class HandbookClass(StrEnum):
    """Accuracy class as marked on the scale."""

    I = "I"  # noqa: E741  (the numeral of the handbook)
    II = "II"
    III = "III"
    III_L = "III L"
    IIII = "IIII"


# Table 6: divisions up to which the maintenance tolerance holds, and that tolerance in d.
# Class III was compared with the table as quoted in public; I, II and IIII are from memory.
_TABLE_6: dict[HandbookClass, tuple[tuple[float, float], ...]] = {
    HandbookClass.I: ((50_000, 1), (200_000, 2), (math.inf, 3)),
    HandbookClass.II: ((5_000, 1), (20_000, 2), (math.inf, 3)),
    HandbookClass.III: ((500, 1), (2_000, 2), (4_000, 3), (math.inf, 5)),
    HandbookClass.IIII: ((50, 1), (200, 2), (400, 3), (math.inf, 5)),
}

_TABLE_8: dict[HandbookClass, float] = {
    HandbookClass.I: 100,
    HandbookClass.II: 50,
    HandbookClass.III: 20,
    HandbookClass.III_L: 50,
    HandbookClass.IIII: 10,
}


def tolerance_d(handbook_class: HandbookClass, load_divisions: float, *, acceptance: bool = False) -> float:
    """Tolerance in d at a load in divisions: Table 6; at acceptance half the maintenance tolerance (T.N.3.2).

    Class III L (from memory): 1 d to 500, 2 d to 1 000, and 1 d more for every further 500 divisions begun.
    """
    n = round(not_below_zero(t("load"), load_divisions, t("divisions")), 6)
    if handbook_class is HandbookClass.III_L:
        maintenance = float(max(1, math.ceil(n / 500)))
    else:
        maintenance = next(d for end, d in _TABLE_6[handbook_class] if n <= end)
    return maintenance / 2 if acceptance else maintenance


def recommended_minimum_load_d(handbook_class: HandbookClass, d_g: float) -> float:
    """Smallest load in divisions that the scale should be used for: UR.3.1, Table 8. `d_g` matters for class II only.

    Raises Refused when d is none.
    """
    above_zero(t("division d"), d_g)
    if handbook_class is HandbookClass.II and d_g <= 0.05 * (1 + 1e-9):
        return 20
    return _TABLE_8[handbook_class]


def handbook_class(text: str) -> HandbookClass:
    """The class named `text`; Refused when there is none such."""
    try:
        return HandbookClass(" ".join(text.upper().split()))
    except ValueError:
        known = ", ".join(HandbookClass)
        raise Refused(
            t("Accuracy class {typed} is not known. Known classes: {known}.", typed=repr(text), known=known),
            t("It stands on the type plate."),
        ) from None
