"""Check weights: what a weight of an accuracy class may be off, and what a certificate says of it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from station.errors import Refused
from station.metrology.given import above_zero
from station.texts import number, t


class WeightClass(StrEnum):
    """Accuracy class of a weight, OIML R 111-1:2004, finest first. E1 is left to laboratories."""

    E2 = "E2"
    F1 = "F1"
    F2 = "F2"
    M1 = "M1"
    M2 = "M2"
    M3 = "M3"


# OIML R 111-1:2004, Table 1 (5.1): maximum permissible error in mg by nominal value in g, classes E2 to M3.
# "from memory" marks rows that were not compared with the printed table; every row keeps the step of about
# sqrt(10) from class to class, which the tests check.
_TABLE_1: dict[int, tuple[float, float, float, float, float, float]] = {
    1: (0.03, 0.1, 0.3, 1, 3, 10),
    2: (0.04, 0.12, 0.4, 1.2, 4, 12),
    5: (0.05, 0.16, 0.5, 1.6, 5, 16),  # from memory, agrees with a published transcription of the table
    10: (0.06, 0.2, 0.6, 2, 6, 20),  # from memory, agrees with a published transcription of the table
    20: (0.08, 0.25, 0.8, 2.5, 8, 25),
    50: (0.1, 0.3, 1, 3, 10, 30),
    100: (0.16, 0.5, 1.6, 5, 16, 50),
    200: (0.3, 1, 3, 10, 30, 100),
    500: (0.8, 2.5, 8, 25, 80, 250),
    1000: (1.6, 5, 16, 50, 160, 500),  # from memory
    2000: (3, 10, 30, 100, 300, 1000),
    5000: (8, 25, 80, 250, 800, 2500),  # from memory
    10000: (16, 50, 160, 500, 1600, 5000),  # from memory
    20000: (30, 100, 300, 1000, 3000, 10000),  # from memory
}

NOMINALS_G: tuple[int, ...] = tuple(_TABLE_1)
"""Nominal values in grams for which a class says how far off the weight may be."""


def weight_class(text: str) -> WeightClass:
    """The class named `text`. Raises Refused for a class that OIML R 111 or this station does not know."""
    try:
        return WeightClass(text.strip().upper())
    except ValueError:
        known = ", ".join(WeightClass)
        raise Refused(
            t("Weight class {typed} is not known. Known classes: {known}.", typed=repr(text), known=known),
            t("It stands on the weight, on its box or on its certificate."),
        ) from None


def permissible_error_mg(nominal_g: float, weight_class: WeightClass) -> float:
    """Largest error in mg that a weight of `nominal_g` may have: OIML R 111-1:2004, Table 1.

    Raises Refused for a nominal value that the table does not list.
    """
    row = _TABLE_1.get(int(nominal_g)) if math.isfinite(nominal_g) and nominal_g == int(nominal_g) else None
    if row is None:
        listed = ", ".join(f"{n}" if n < 1000 else f"{n // 1000} k" for n in NOMINALS_G)
        raise Refused(
            t(
                "A weight of {nominal_g} g has no class: classes are defined for {listed} (in g, k = 1000).",
                nominal_g=number(nominal_g),
                listed=listed,
            ),
            t("Use one of these, or enter the value and the uncertainty from the weight's certificate."),
        )
    return row[tuple(WeightClass).index(weight_class)]


def coarsest_class(nominal_g: float, bound_g: float) -> WeightClass | None:
    """The coarsest (cheapest) class of which a weight of `nominal_g` is off by `bound_g` at most; None: not even E2."""
    fit = [known for known in WeightClass if permissible_error_mg(nominal_g, known) <= bound_g * 1000 * (1 + 1e-9)]
    return fit[-1] if fit else None


@dataclass(frozen=True, slots=True)
class OfClass:
    """The weight is known by its class: somewhere within nominal ± the permissible error."""

    weight_class: WeightClass


@dataclass(frozen=True, slots=True)
class Certified:
    """The weight is known by a certificate: conventional value and expanded uncertainty (k = 2), in grams."""

    value_g: float
    expanded_g: float
    k: float = 2.0

    def __post_init__(self) -> None:
        above_zero(t("certificate's value"), self.value_g)
        above_zero(t("certificate's uncertainty"), self.expanded_g)
        above_zero(t("certificate's coverage factor"), self.k, "")


@dataclass(frozen=True, slots=True)
class CheckWeight:
    """A weight to check a scale with. Raises Refused when class and nominal, or certificate, make no sense."""

    nominal_g: float
    known_by: OfClass | Certified

    def __post_init__(self) -> None:
        above_zero(t("nominal value of the check weight"), self.nominal_g)
        match self.known_by:
            case OfClass(known):
                permissible_error_mg(self.nominal_g, known)
            case Certified(value_g=value):
                if abs(value - self.nominal_g) > 0.01 * self.nominal_g:
                    raise Refused(
                        t(
                            "The certificate's value {value} g does not belong to a weight of {nominal_g} g.",
                            value=number(value),
                            nominal_g=number(self.nominal_g),
                        ),
                        t("Compare the number on the weight with the one on the certificate."),
                    )

    @property
    def value_g(self) -> float:
        """What the weight counts for, in grams: the certificate's value, else the nominal value."""
        return self.known_by.value_g if isinstance(self.known_by, Certified) else self.nominal_g

    @property
    def bound_g(self) -> float:
        """How far off the weight may be, in grams: permissible error of its class, or expanded uncertainty."""
        match self.known_by:
            case OfClass(known):
                return permissible_error_mg(self.nominal_g, known) / 1000
            case Certified(expanded_g=expanded):
                return expanded

    @property
    def u_g(self) -> float:
        """Standard uncertainty in grams.

        By class: rectangular within the permissible error (GUM, JCGM 100:2008, 4.3.7). By certificate: U / k (4.3.3).
        """
        match self.known_by:
            case OfClass():
                return self.bound_g / math.sqrt(3)
            case Certified(expanded_g=expanded, k=k):
                return expanded / k
