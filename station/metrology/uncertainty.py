"""How sure one weighing is, and a ratio of two: uncertainty by the GUM (JCGM 100:2008), in grams.

A net weighing is the difference of two readings, so it carries the rounding of both, how well the scale repeats
itself, how far zero wandered meanwhile, and, in proportion to the mass, how far the scale's sensitivity and the
place of the load are off. Buoyancy of air is left out: it makes castable materials read about 0.1 % light, much the
same for every part of a mix, so that it all but cancels in a ratio.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from station.errors import Refused
from station.metrology.given import above_zero, not_below_zero
from station.metrology.tolerance import COVERAGE, ROUNDING_D
from station.texts import number, t


@dataclass(frozen=True, slots=True)
class Budget:
    """The standard uncertainties of one net weighing, each in grams."""

    net_g: float
    rounding_g: float
    repeatability_g: float
    drift_g: float
    sensitivity_g: float
    position_g: float

    def named(self) -> tuple[tuple[str, float], ...]:
        """Each contribution as a person calls it, with its standard uncertainty in grams."""
        return (
            (t("rounding of two readings"), self.rounding_g),
            (t("repeatability beyond rounding"), self.repeatability_g),
            (t("drift during the weighing"), self.drift_g),
            (t("sensitivity of the scale"), self.sensitivity_g),
            (t("place of the load on the pan"), self.position_g),
        )

    @property
    def combined_g(self) -> float:
        """Combined standard uncertainty: root of the sum of squares (GUM 5.1.2, independent contributions)."""
        return math.hypot(*(u for _, u in self.named()))

    @property
    def random_g(self) -> float:
        """The part that does not cancel in a ratio of two weighings on the same scale: all but sensitivity."""
        return math.hypot(self.rounding_g, self.repeatability_g, self.drift_g, self.position_g)

    def expanded_g(self, k: float = COVERAGE) -> float:
        """Expanded uncertainty U = k u (GUM 6.2.1)."""
        return k * self.combined_g


def rectangular(half_width: float) -> float:
    """Standard uncertainty of something known only to lie within ± `half_width`: a / sqrt(3) (GUM 4.3.7)."""
    return not_below_zero(t("half-width"), half_width, "") / math.sqrt(3)


def drift_u_g(drift_g_per_h: float, weighing_s: float) -> float:
    """Standard uncertainty in grams from a zero that wanders: rectangular within what it moves in one weighing."""
    return rectangular(abs(drift_g_per_h) * above_zero(t("time of one weighing"), weighing_s, "s") / 3600)


def net_budget(
    net_g: float,
    *,
    readability_g: float,
    repeatability_g: float = 0.0,
    drift_u_g: float = 0.0,
    sensitivity_u: float = 0.0,
    position_u: float = 0.0,
) -> Budget:
    """Budget of one net weighing of `net_g`.

    `repeatability_g` is the standard deviation of readings as displayed. It already contains their rounding, so
    only what it shows beyond 0.41 d counts once more: without drift the sum is max(s, 0.41 d), the form of USP <41>.
    `drift_u_g` in grams, `sensitivity_u` and `position_u` relative to the net mass; all standard uncertainties.
    Raises Refused for figures that no scale has.
    """
    net = not_below_zero(t("net mass"), net_g)
    rounding = ROUNDING_D * above_zero(t("readability d"), readability_g)
    s = not_below_zero(t("repeatability"), repeatability_g)
    return Budget(
        net_g=net,
        rounding_g=rounding,
        repeatability_g=math.sqrt(max(s * s - rounding * rounding, 0.0)),
        drift_g=not_below_zero(t("drift"), drift_u_g),
        sensitivity_g=net * not_below_zero(t("uncertainty of the sensitivity"), sensitivity_u, ""),
        position_g=net * not_below_zero(t("uncertainty from the place of the load"), position_u, ""),
    )


@dataclass(frozen=True, slots=True)
class Ratio:
    """A quotient and its standard uncertainty."""

    value: float
    u: float

    @property
    def relative_percent(self) -> float:
        """Standard uncertainty in per cent of the quotient."""
        return 100 * self.u / self.value


def ratio_uncertainty(a_g: float, u_a: float, b_g: float, u_b: float, *, shared_reading_u: float = 0.0) -> Ratio:
    """The quotient a / b with its standard uncertainty: relative variances add (GUM 5.1.6, eq. 12).

    Leave the error of sensitivity out of `u_a` and `u_b` when both were weighed on one scale: a scale that reads
    0.1 % too much does so for both, (1.001 a) / (1.001 b) = a / b, and the ratio does not feel it.
    `shared_reading_u`: when the reading that ends A is also the one from which B starts (two parts in one cup,
    no tare key in between), too much A is too little B, so the covariance is minus its square (GUM 5.2.2, eq. 13).
    Units are the caller's; a mass over a volume gives a density. Raises Refused unless both are above zero.
    """
    a, b = above_zero(t("first quantity"), a_g, ""), above_zero(t("second quantity"), b_g, "")
    rel_a = not_below_zero(t("uncertainty of the first quantity"), u_a, "") / a
    rel_b = not_below_zero(t("uncertainty of the second quantity"), u_b, "") / b
    shared = not_below_zero(t("uncertainty of the shared reading"), shared_reading_u, "")
    if shared > min(u_a, u_b) * (1 + 1e-9):
        raise Refused(
            t(
                "The shared reading's uncertainty {shared} is larger than that of a whole weighing.",
                shared=number(shared),
            ),
            t("It is a part of both; enter the rounding of one reading."),
        )
    return Ratio(a / b, a / b * math.sqrt(rel_a**2 + rel_b**2 + 2 * shared**2 / (a * b)))


def smallest_holdable_g(
    percent: float,
    *,
    absolute_u_g: float,
    relative_u: float = 0.0,
    relative_error: float = 0.0,
    k: float = COVERAGE,
) -> float | None:
    """Smallest net mass in grams whose uncertainty stays within ± `percent` %, or None when none does.

    Solves k sqrt(u0^2 + (w m)^2) + |b| m = p m, with u0 the contributions that do not grow with the mass, w those
    that do, and b a known error of sensitivity that is left uncorrected (added to U as in GUM F.2.4.5). None when
    k w + |b| alone reach the tolerance: no mass helps then, only an adjusted scale or a better check weight.
    """
    room = above_zero(t("tolerance"), percent, "%") / 100 - abs(relative_error)
    w = above_zero(t("coverage factor"), k, "") * not_below_zero(t("relative uncertainty"), relative_u, "")
    if room <= w:
        return None
    return k * not_below_zero(t("uncertainty"), absolute_u_g) / math.sqrt(room * room - w * w)
