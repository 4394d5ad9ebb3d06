"""Accuracy classes of scales by OIML R 76-1:2006: what a verified scale may be off, and how it is tested.

The terms are the Recommendation's: e is the verification scale interval, Max the greatest load, n = Max / e.
A bench scale without a type plate that names class and e has no such limits, and d on the display is not e.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from station.errors import Refused
from station.metrology.given import above_zero, not_below_zero
from station.texts import N_, number, t


class AccuracyClass(StrEnum):
    """Special, high, medium and ordinary accuracy, as printed on the type plate."""

    I = "I"  # noqa: E741  (the numeral of the standard)
    II = "II"
    III = "III"
    IIII = "IIII"


# OIML R 76-1:2006, Table 6 (3.5.1): loads in e up to which the error may be 0.5 e, 1 e and 1.5 e.
_TABLE_6: dict[AccuracyClass, tuple[float, float, float]] = {
    AccuracyClass.I: (50_000, 200_000, math.inf),
    AccuracyClass.II: (5_000, 20_000, 100_000),
    AccuracyClass.III: (500, 2_000, 10_000),
    AccuracyClass.IIII: (50, 200, 1_000),
}


@dataclass(frozen=True, slots=True)
class ClassLimits:
    """One row of OIML R 76-1:2006, Table 3: range of e in grams, of n, and Min in e."""

    accuracy_class: AccuracyClass
    e_from_g: float
    e_to_g: float
    n_from: float
    n_to: float
    min_e: float


TABLE_3: tuple[ClassLimits, ...] = (
    ClassLimits(AccuracyClass.I, 0.001, math.inf, 50_000, math.inf, 100),
    ClassLimits(AccuracyClass.II, 0.001, 0.05, 100, 100_000, 20),
    ClassLimits(AccuracyClass.II, 0.1, math.inf, 5_000, 100_000, 50),
    ClassLimits(AccuracyClass.III, 0.1, 2, 100, 10_000, 20),
    ClassLimits(AccuracyClass.III, 5, math.inf, 500, 10_000, 20),
    ClassLimits(AccuracyClass.IIII, 5, math.inf, 100, 1_000, 10),
)
"""OIML R 76-1:2006, Table 3 (3.2)."""

_WHISKER = 1e-9
"""Relative slack of comparisons, so that 0.3 g / 0.1 g counts as 3."""


def permissible_error_g(accuracy_class: AccuracyClass, load_g: float, e_g: float, *, in_service: bool = False) -> float:
    """Largest error in grams at `load_g` (the net load, whatever the tare): OIML R 76-1:2006, Table 6.

    At verification; `in_service` doubles it (3.5.2). Raises Refused beyond the loads that the class has.
    """
    n = not_below_zero(t("load"), load_g) / above_zero(t("verification interval e"), e_g)
    for steps, end in zip((0.5, 1.0, 1.5), _TABLE_6[accuracy_class], strict=True):
        if n <= end * (1 + _WHISKER):
            return steps * e_g * (2 if in_service else 1)
    raise Refused(
        t(
            "{load} g are {steps} e, and class {accuracy_class} ends at {most} e.",
            load=number(load_g),
            steps=number(n, ".0f"),
            accuracy_class=accuracy_class,
            most=number(_TABLE_6[accuracy_class][2], ".0f"),
        ),
        t("Compare class and e with the type plate."),
    )


def possible_classes(e_g: float, max_g: float) -> tuple[ClassLimits, ...]:
    """The rows of Table 3 into which a scale with this e and Max fits; empty when it fits into none."""
    n = above_zero(t("greatest load Max"), max_g) / above_zero(t("verification interval e"), e_g)
    return tuple(
        row
        for row in TABLE_3
        if row.e_from_g * (1 - _WHISKER) <= e_g <= row.e_to_g * (1 + _WHISKER)
        and row.n_from * (1 - _WHISKER) <= n <= row.n_to * (1 + _WHISKER)
    )


def minimum_capacity_g(accuracy_class: AccuracyClass, e_g: float, max_g: float) -> float:
    """Min, the smallest load in grams for which the class speaks (Table 3). Raises Refused when it cannot be one."""
    fitting = possible_classes(e_g, max_g)
    for row in fitting:
        if row.accuracy_class is accuracy_class:
            return row.min_e * e_g
    said = (
        N_("A scale with e = {e} g and Max = {most} g cannot be of class {told}; it could be of class {could}.")
        if fitting
        else N_("A scale with e = {e} g and Max = {most} g cannot be of class {told}; it fits into no class.")
    )
    could = ", ".join(row.accuracy_class for row in fitting)
    raise Refused(
        t(said, e=number(e_g), most=number(max_g), told=accuracy_class, could=could),
        t("Compare class, e and Max with the type plate."),
    )


def corner_load_g(max_g: float, supports: int = 4) -> float:
    """Load in grams for the corner test: Max / 3 up to four supports, Max / (n - 1) above.

    OIML R 76-1:2006, 3.6.2 (from memory; without an additive tare). Wherever it stands, the reading may be off
    by the permissible error at that load at most.
    """
    if supports < 1:
        raise Refused(
            t("A pan rests on at least one support, not on {supports}.", supports=supports),
            t("Count the load cells or feet."),
        )
    return above_zero(t("greatest load Max"), max_g) / (3 if supports <= 4 else supports - 1)


def permissible_repeatability_g(error_g: float) -> float:
    """Largest standard deviation in grams of at least ten weighings: a third of the permissible error.

    For fine scales (classes I and II): French order (arrêté) of 24 March 1972, article 10.2, older than R 76.
    """
    return not_below_zero(t("permissible error"), error_g) / 3


def before_rounding_g(shown_g: float, step_g: float, added_g: float) -> float:
    """What the scale felt before it rounded, in grams: P = I + e/2 - dL (OIML R 76-1:2006, A.4.4.3).

    `added_g` is what was added in small weights until the display just went one step up.
    """
    return shown_g + above_zero(t("scale interval"), step_g) / 2 - not_below_zero(t("mass added"), added_g)


def corrected_error_g(error_g: float, zero_error_g: float) -> float:
    """Error at a load freed of the error at zero, in grams: Ec = E - E0 (OIML R 76-1:2006, A.4.4.3)."""
    return error_g - zero_error_g
