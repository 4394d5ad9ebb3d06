"""The scale check: what was read at the bench in, what the scale can promise out.

A check of one scale in the workshop, with a check weight where there is one. It is not a verification for trade.
"""

from __future__ import annotations

import calendar
from dataclasses import dataclass
from datetime import date

from station.errors import Refused
from station.metrology.classes import minimum_capacity_g
from station.metrology.figures import (
    Limit,
    WeightFinding,
    corner_spread_g,
    drift_g_per_h,
    limit_at,
    position_u,
    repeatability_g,
    seen_readability,
    weight_finding,
)
from station.metrology.given import above_zero, not_below_zero
from station.metrology.promise import ScalePromise
from station.metrology.readability import Readability, update_rate_hz
from station.metrology.readings import Corners, DriftSeries, Placements, Plate, Stream, WeightReading, ZeroReturns
from station.metrology.uncertainty import drift_u_g
from station.texts import N_, number, t


@dataclass(frozen=True, slots=True)
class CheckReadings:
    """All that was read in one scale check. Grams, seconds, per cent. Raises Refused for what makes no sense.

    Zero returns and placements are always read; every other test may be left out, and the verdict then says so.
    `smallest_part_g` is the smallest part of a mix that is weighed in this workshop, where it is known.
    """

    readability_g: float
    maximum_g: float
    zero_returns: ZeroReturns
    placements: Placements
    weights: tuple[WeightReading, ...] = ()
    corners: Corners | None = None
    drift: DriftSeries | None = None
    settling_s: tuple[float, ...] = ()
    stream: Stream | None = None
    plate: Plate | None = None
    wanted_percent: float = 1.0
    weighing_s: float = 40.0
    smallest_part_g: float | None = None

    def __post_init__(self) -> None:
        ScalePromise(self.readability_g, self.maximum_g)
        if above_zero(t("wanted tolerance"), self.wanted_percent, "%") > 50:
            raise Refused(
                t(
                    "A tolerance of ± {wanted_percent} % asks nothing of a scale.",
                    wanted_percent=number(self.wanted_percent),
                ),
                t("1 to 5 % is common."),
            )
        above_zero(t("time of one weighing"), self.weighing_s, "s")
        if self.smallest_part_g is not None:
            above_zero(t("smallest part"), self.smallest_part_g)
        for value in self.settling_s:
            not_below_zero(t("settling time"), value, "s")
        loads = [(N_("The placed load of {load} g is beyond Max = {most} g."), max(self.placements.shown_g))]
        check_weight = N_("The check weight of {load} g is beyond Max = {most} g.")
        loads += [(check_weight, reading.weight.nominal_g) for reading in self.weights]
        if self.corners:
            loads += [(N_("The corner load of {load} g is beyond Max = {most} g."), self.corners.load_g)]
        for said, load in loads:
            if load > self.maximum_g:
                raise Refused(t(said, load=number(load), most=number(self.maximum_g)), t("Use a lighter one."))
        if self.plate is not None:
            minimum_capacity_g(self.plate.accuracy_class, self.plate.e_g, self.maximum_g)
            if not 0.999 <= self.plate.e_g / self.readability_g <= 10.001:
                raise Refused(
                    t(
                        "e = {e_g} g does not go with d = {readability_g} g: e is d to 10 d.",
                        e_g=number(self.plate.e_g),
                        readability_g=number(self.readability_g),
                    ),
                    t("Compare both with the type plate (OIML R 76-1:2006, 3.4.2)."),
                )

    def limit_at(self, load_g: float) -> Limit:
        """Largest error in grams at a load, by the type plate or by the wanted tolerance."""
        return limit_at(load_g, plate=self.plate, percent=self.wanted_percent, readability_g=self.readability_g)


@dataclass(frozen=True, slots=True)
class Figures:
    """What the check measured. Grams; None where the test was left out."""

    repeatability_g: float
    zero_return_g: float
    """The zero return farthest from zero, with its sign."""
    weights: tuple[WeightFinding, ...]
    corner_spread_g: float | None
    drift_g_per_h: float | None
    settling_s: float | None
    """The longest of the settling times."""
    readability: Readability | None
    """As seen on the display; None also when the display moved too little to tell."""
    update_hz: float | None
    promise: ScalePromise


def measured(readings: CheckReadings) -> Figures:
    """The figures of a check, and with them what the scale can promise.

    Sensitivity is taken from the heaviest check weight. The promise counts with the coarser of the readability
    set and the one seen.
    """
    s = repeatability_g(readings.placements.shown_g)
    seen = seen_readability(readings.stream) if readings.stream else None
    d = max(readings.readability_g, float(seen.step)) if seen else readings.readability_g
    weights = tuple(
        weight_finding(reading, readability_g=d, s_g=s, limit=readings.limit_at(reading.weight.nominal_g))
        for reading in readings.weights
    )
    heaviest = max(weights, key=lambda finding: finding.weight.value_g, default=None)
    drift = drift_g_per_h(readings.drift) if readings.drift else None
    promise = ScalePromise(
        readability_g=d,
        maximum_g=readings.maximum_g,
        repeatability_g=s,
        drift_u_g=drift_u_g(drift or 0.0, readings.weighing_s),
        sensitivity_u=heaviest.relative_u if heaviest else 0.0,
        sensitivity_error=heaviest.relative_error if heaviest else 0.0,
        position_u=position_u(readings.corners) if readings.corners else 0.0,
    )
    return Figures(
        repeatability_g=s,
        zero_return_g=max(readings.zero_returns.shown_g, key=abs),
        weights=weights,
        corner_spread_g=corner_spread_g(readings.corners) if readings.corners else None,
        drift_g_per_h=drift,
        settling_s=max(readings.settling_s, default=None),
        readability=seen,
        update_hz=update_rate_hz(readings.stream.times_s) if readings.stream else None,
        promise=promise,
    )


def due_date(checked: date, months: int = 12) -> date:
    """The day by which the scale is checked again, `months` later (the month's last day where it is shorter).

    Once a year is common practice, no source. Raises Refused unless 1 to 120 months.
    """
    if not 1 <= months <= 120:
        raise Refused(
            t("{months} months is no time between checks.", months=months),
            t("12 is common; 3 to 6 for a scale in daily use."),
        )
    year, month = divmod(checked.year * 12 + checked.month - 1 + months, 12)
    return date(year, month + 1, min(checked.day, calendar.monthrange(year, month + 1)[1]))
