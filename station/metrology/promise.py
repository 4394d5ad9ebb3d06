"""What a scale can promise: from its readability and its last check to the smallest part and the surest ratio."""

from __future__ import annotations

import math
from dataclasses import dataclass

from station.errors import Refused
from station.metrology.given import above_zero, as_shown, finite, not_below_zero, rounded_up
from station.metrology.tolerance import COVERAGE
from station.metrology.uncertainty import Budget, Ratio, net_budget, ratio_uncertainty, smallest_holdable_g
from station.texts import number, t


@dataclass(frozen=True, slots=True)
class ScalePromise:
    """What is known of a scale. Grams, but for the last three, which are relative to the net mass.

    With readability and Max alone it is a lower bound of the error: the rounding of the display.
    Raises Refused for figures that no scale has.
    """

    readability_g: float
    maximum_g: float
    repeatability_g: float = 0.0
    """Standard deviation of placements as displayed."""
    drift_u_g: float = 0.0
    """Standard uncertainty from the drift during one weighing."""
    sensitivity_u: float = 0.0
    """Relative standard uncertainty of the sensitivity, from the check weight."""
    sensitivity_error: float = 0.0
    """Relative error of the sensitivity at the check weight, left uncorrected; above zero reads too much."""
    position_u: float = 0.0
    """Relative standard uncertainty from where on the pan the load stands."""

    def __post_init__(self) -> None:
        above_zero(t("readability d"), self.readability_g)
        if above_zero(t("greatest load Max"), self.maximum_g) < self.readability_g:
            raise Refused(
                t(
                    "A scale that reads to {readability_g} g cannot end at {maximum_g} g.",
                    readability_g=number(self.readability_g),
                    maximum_g=number(self.maximum_g),
                ),
                t("Compare d and Max with the type plate."),
            )
        not_below_zero(t("repeatability"), self.repeatability_g)
        not_below_zero(t("drift"), self.drift_u_g)
        not_below_zero(t("uncertainty of the sensitivity"), self.sensitivity_u, "")
        finite(t("error of the sensitivity"), self.sensitivity_error)
        not_below_zero(t("uncertainty from the place of the load"), self.position_u, "")

    def budget(self, net_g: float) -> Budget:
        """The uncertainty of one net weighing, contribution by contribution."""
        return net_budget(
            net_g,
            readability_g=self.readability_g,
            repeatability_g=self.repeatability_g,
            drift_u_g=self.drift_u_g,
            sensitivity_u=self.sensitivity_u,
            position_u=self.position_u,
        )

    def u_g(self, net_g: float) -> float:
        """Combined standard uncertainty in grams of one net weighing."""
        return self.budget(net_g).combined_g

    def smallest_g(self, percent: float, k: float = COVERAGE) -> float | None:
        """Smallest net mass in grams held to ± `percent` %; None when no mass up to Max is."""
        least = smallest_holdable_g(
            percent,
            absolute_u_g=self.budget(0.0).combined_g,
            relative_u=math.hypot(self.sensitivity_u, self.position_u),
            relative_error=self.sensitivity_error,
            k=k,
        )
        return None if least is None or least > self.maximum_g else least

    def ratio(self, a_g: float, b_g: float, *, one_cup: bool = True) -> Ratio:
        """a / b as weighed on this scale: its sensitivity cancels, see `ratio_uncertainty`.

        `one_cup`: B is counted from the reading that ended A. Its rounding, d / sqrt(12), is then shared.
        """
        shared = self.readability_g / math.sqrt(12) if one_cup else 0.0
        u_a, u_b = self.budget(a_g).random_g, self.budget(b_g).random_g
        return ratio_uncertainty(a_g, u_a, b_g, u_b, shared_reading_u=shared)

    def ratio_margin_percent(
        self, a_g: float, b_g: float, percent: float, *, one_cup: bool = True, k: float = COVERAGE
    ) -> float:
        """What the scale leaves of a ratio's tolerance for the hand that pours: percent - k u; below zero: nothing."""
        tolerance = above_zero(t("tolerance"), percent, "%")
        return tolerance - k * self.ratio(a_g, b_g, one_cup=one_cup).relative_percent

    def sentence(self, percent: float) -> str:
        """The smallest part in words, rounded up to what the display can show."""
        least = self.smallest_g(percent)
        if least is None:
            return t(
                "This scale cannot be shown to hold ± {percent} % at any mass up to {most}.",
                percent=number(percent),
                most=self._shown(self.maximum_g),
            )
        return t(
            "A part held to ± {percent} % needs at least {least} on this scale.",
            percent=number(percent),
            least=self._shown(least),
        )

    def _shown(self, grams: float) -> str:
        return as_shown(rounded_up(grams, self.readability_g), self.readability_g)
