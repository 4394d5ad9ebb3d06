"""The figures of a scale check: from what was read off the display to errors, spread, drift and limits."""

from __future__ import annotations

import math
import statistics
from dataclasses import dataclass
from enum import Enum, auto

from station.metrology.classes import before_rounding_g, corrected_error_g, permissible_error_g
from station.metrology.readability import Readability, TooFewValues, measured_readability
from station.metrology.readings import Corners, DriftSeries, Plate, Stream, WeightReading
from station.metrology.tolerance import COVERAGE, ROUNDING_D
from station.metrology.weights import CheckWeight

SHARE_OF_TOLERANCE = 1 / 3
"""How much of the wanted tolerance the scale's own error may take (common practice, no source)."""

SHARE_OF_LIMIT = 1 / 3
"""How much of the scale's limit the check weight may be off: OIML R 76-1:2006, 3.7.1 (from memory)."""


class LimitFrom(Enum):
    """Where a limit comes from."""

    CLASS = auto()
    """The scale's class in service."""
    TOLERANCE = auto()
    """A third of the wanted tolerance."""


class Against(Enum):
    """An error held against its limit, its uncertainty considered."""

    WITHIN = auto()
    """Within, even if the uncertainty is against us."""
    CLOSE = auto()
    """Within, but closer to the limit than the uncertainty."""
    OUTSIDE = auto()


@dataclass(frozen=True, slots=True)
class Limit:
    """Largest error in grams, and where it comes from."""

    g: float
    source: LimitFrom


@dataclass(frozen=True, slots=True)
class WeightFinding:
    """The scale with one check weight on it. Grams; the error is above zero when the scale reads too much."""

    weight: CheckWeight
    error_g: float
    u_g: float
    limit: Limit

    @property
    def expanded_g(self) -> float:
        """Expanded uncertainty of the error, k = 2."""
        return COVERAGE * self.u_g

    @property
    def against(self) -> Against:
        """The error against the limit."""
        if abs(self.error_g) > self.limit.g + 1e-9:
            return Against.OUTSIDE
        return Against.WITHIN if abs(self.error_g) + self.expanded_g <= self.limit.g + 1e-9 else Against.CLOSE

    @property
    def good_enough(self) -> bool:
        """Whether the weight itself is off by a third of the limit at most."""
        return self.weight.bound_g <= SHARE_OF_LIMIT * self.limit.g + 1e-12

    @property
    def relative_error(self) -> float:
        """Error as a share of the load."""
        return self.error_g / self.weight.value_g

    @property
    def relative_u(self) -> float:
        """Standard uncertainty of the error as a share of the load."""
        return self.u_g / self.weight.value_g


def limit_at(load_g: float, *, plate: Plate | None, percent: float, readability_g: float) -> Limit:
    """Largest error at a load: by the type plate, in service (OIML R 76-1:2006, 3.5.2), or by the wanted tolerance.

    By tolerance it is a third of it, but never finer than the display can show. Raises Refused beyond the class.
    """
    if plate is not None:
        error = permissible_error_g(plate.accuracy_class, load_g, plate.e_g, in_service=True)
        return Limit(error, LimitFrom.CLASS)
    return Limit(max(SHARE_OF_TOLERANCE * percent / 100 * load_g, readability_g), LimitFrom.TOLERANCE)


def repeatability_g(shown_g: tuple[float, ...]) -> float:
    """Sample standard deviation (n - 1) of repeated placements, in grams (OIML R 76-1:2006, A.4.10; USP <41>)."""
    return statistics.stdev(shown_g)


def weight_finding(reading: WeightReading, *, readability_g: float, s_g: float, limit: Limit) -> WeightFinding:
    """Error at a check weight, freed of the error at zero, and its standard uncertainty.

    The uncertainty holds the weight's own, the rounding of two readings, and what repeatability `s_g` shows beyond
    rounding over the root of the number of readings (GUM 4.2.3). A reading refined with small weights counts as
    its rounding found, but keeps the rounding of the zero reading.
    """
    shown = statistics.fmean(reading.shown_g)
    rounding = ROUNDING_D * readability_g
    beyond = math.sqrt(max(s_g * s_g - rounding * rounding, 0.0)) / math.sqrt(len(reading.shown_g))
    if reading.turned_after_g is not None:
        shown = before_rounding_g(shown, readability_g, reading.turned_after_g)
        rounding = readability_g / math.sqrt(12)
    error = corrected_error_g(shown - reading.weight.value_g, reading.zero_g)
    return WeightFinding(reading.weight, error, math.hypot(reading.weight.u_g, rounding, beyond), limit)


def corner_spread_g(corners: Corners) -> float:
    """How far the same load moves the reading over the pan, in grams (OIML R 76-1:2006, 3.6.2)."""
    values = [value for _, value in corners.places()]
    return max(values) - min(values)


def worst_corner(corners: Corners) -> tuple[str, float]:
    """The edge that differs most from the middle, by name, and by how many grams."""
    edges = [(place, value - corners.centre_g) for place, value in corners.places()[1:]]
    return max(edges, key=lambda edge: abs(edge[1]))


def position_u(corners: Corners) -> float:
    """Relative standard uncertainty from the place of the load: |dI| / (2 L sqrt(3)).

    EURAMET cg-18 v4.0, 7.4 (from memory): a load is put down within half of the way to the tested edge.
    """
    return abs(worst_corner(corners)[1]) / (2 * corners.load_g * math.sqrt(3))


def drift_g_per_h(series: DriftSeries) -> float:
    """How fast the reading of a load left alone moves: slope of the least-squares line, in grams an hour."""
    times, values = zip(*series.points, strict=True)
    return 3600 * statistics.linear_regression(times, values).slope


def seen_readability(stream: Stream) -> Readability | None:
    """Readability from the stream; None when the display moved too little to tell. Raises Refused for non-numbers."""
    try:
        return measured_readability(stream.shown)
    except TooFewValues:
        return None
