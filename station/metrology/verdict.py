"""The verdict of a scale check, each reason in a sentence that a caster understands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from station.metrology.check import CheckReadings, Figures, due_date, measured
from station.metrology.classes import (
    AccuracyClass,
    minimum_capacity_g,
    permissible_error_g,
    permissible_repeatability_g,
)
from station.metrology.figures import SHARE_OF_LIMIT, Against, WeightFinding, worst_corner
from station.metrology.given import as_shown
from station.metrology.handbook44 import HandbookClass, tolerance_d
from station.metrology.promise import ScalePromise
from station.metrology.readings import PLACEMENTS, Plate
from station.metrology.tolerance import COVERAGE
from station.metrology.weights import NOMINALS_G, OfClass, coarsest_class
from station.texts import N_

NOT_FOR_TRADE = (
    "This is a workshop check of one scale at one place. It is not a verification for trade: "
    "for selling by weight the scale must be verified by the authority in charge."
)


class Verdict(StrEnum):
    """What the scale may be used for."""

    FIT = N_("fit")
    FIT_WITH_LIMITS = N_("fit with limits")
    NOT_FIT = N_("not fit")


@dataclass(frozen=True, slots=True)
class Reason:
    """One sentence, and the best verdict that it allows."""

    allows: Verdict
    words: str


@dataclass(frozen=True, slots=True)
class CheckResult:
    """A finished scale check."""

    on: date
    due: date
    figures: Figures
    verdict: Verdict
    reasons: tuple[Reason, ...]
    note: str = NOT_FOR_TRADE

    @property
    def promise(self) -> ScalePromise:
        """What the scale can promise from now on."""
        return self.figures.promise


def checked(readings: CheckReadings, on: date, months: int = 12) -> CheckResult:
    """The result of a check made on that day, due again `months` later. Raises Refused for what makes no sense."""
    due = due_date(on, months)
    figures = measured(readings)
    reasons = tuple(
        reason
        for judge in (_smallest, _weights, _zero, _repeats, _corners, _drift, _display, _settling)
        for reason in judge(readings, figures)
    )
    allowed = {reason.allows for reason in reasons}
    worst = next((v for v in (Verdict.NOT_FIT, Verdict.FIT_WITH_LIMITS) if v in allowed), Verdict.FIT)
    return CheckResult(on, due, figures, worst, reasons)


def _smallest(readings: CheckReadings, figures: Figures) -> Iterator[Reason]:
    promise, percent = figures.promise, readings.wanted_percent
    least, off = promise.smallest_g(percent), 100 * promise.sensitivity_error
    if least is None:
        yield Reason(Verdict.NOT_FIT, promise.sentence(percent))
        if abs(off) >= percent:
            yield Reason(Verdict.NOT_FIT, f"Its reading is off by {abs(off):.2g} % alone. Adjust it, then check again.")
        elif COVERAGE * 100 * promise.sensitivity_u >= (percent - abs(off)) / 2:
            yield Reason(
                Verdict.NOT_FIT,
                f"Its sensitivity is only known to ± {COVERAGE * 100 * promise.sensitivity_u:.2g} %. "
                "Check with a heavier weight, or one that is known better.",
            )
        return
    part = readings.smallest_part_g
    held = part is None or least <= part * (1 + 1e-9)
    yield Reason(Verdict.FIT if held else Verdict.FIT_WITH_LIMITS, promise.sentence(percent))
    if part is not None and not held:
        reach = 100 * (COVERAGE * promise.u_g(part) / part) + abs(off)
        yield Reason(
            Verdict.FIT_WITH_LIMITS,
            f"Your smallest part, {part:g} g, is held to ± {reach:.2g} % only: plan larger batches, or a finer scale.",
        )


def _weights(readings: CheckReadings, figures: Figures) -> Iterator[Reason]:
    if not figures.weights:
        yield Reason(
            Verdict.FIT_WITH_LIMITS,
            "No check weight was used: ratios hold, for both parts are weighed on the same scale, "
            "but how many grams a gram is remains unproven.",
        )
    for finding in figures.weights:
        yield _weight(finding, figures.promise.readability_g)
        if not finding.good_enough:
            yield Reason(Verdict.FIT_WITH_LIMITS, _too_coarse(finding))
    if readings.plate is not None:
        least = minimum_capacity_g(readings.plate.accuracy_class, readings.plate.e_g, readings.maximum_g)
        yield Reason(Verdict.FIT, f"Below {least:g} g, its Min, the class on the type plate promises nothing.")
        for finding in figures.weights:
            yield Reason(Verdict.FIT, _both_limits(readings.plate, finding.weight.nominal_g, readings.readability_g))


def _weight(finding: WeightFinding, d_g: float) -> Reason:
    error, limit = finding.error_g, f"the limit of {finding.limit.source}, {finding.limit.g:.3g} g"
    much = f"{as_shown(abs(error), d_g / 10)} too {'much' if error > 0 else 'little'}"
    reads = "right" if abs(error) < d_g / 1000 else much
    words = f"With {finding.weight.nominal_g:g} g on it reads {reads}, ± {finding.expanded_g:.2g} g"
    match finding.against:
        case Against.OUTSIDE:
            return Reason(Verdict.NOT_FIT, f"{words}: beyond {limit}. Adjust it, then check again.")
        case Against.CLOSE:
            return Reason(Verdict.FIT_WITH_LIMITS, f"{words}: so near to {limit}, that it may be beyond.")
        case Against.WITHIN:
            return Reason(Verdict.FIT, f"{words}: within {limit}.")


def _both_limits(plate: Plate, load_g: float, d_g: float) -> str:
    """What two bodies of rules allow at this load in use; they count differently, so neither stands for the other."""
    in_service = permissible_error_g(plate.accuracy_class, load_g, plate.e_g, in_service=True)
    handbook = tolerance_d(HandbookClass(plate.accuracy_class.value), load_g / d_g) * d_g
    return (
        f"In use, a scale of class {plate.accuracy_class} may be off by {in_service:g} g at {load_g:g} g by OIML R 76, "
        f"by {handbook:g} g by NIST Handbook 44."
    )


def _too_coarse(finding: WeightFinding) -> str:
    weight, third = finding.weight, SHARE_OF_LIMIT * finding.limit.g
    words = (
        f"The {weight.nominal_g:g} g check weight may itself be off by {weight.bound_g:.3g} g, "
        f"more than a third of the limit, {third:.2g} g."
    )
    better = coarsest_class(weight.nominal_g, third) if weight.nominal_g in NOMINALS_G else None
    if isinstance(weight.known_by, OfClass) and better is not None:
        return f"{words} Use one of class {better} or better."
    return f"{words} Use one that is known better."


def _zero(readings: CheckReadings, figures: Figures) -> Iterator[Reason]:
    d = figures.promise.readability_g
    worst, limit = figures.zero_return_g, readings.limit_at(0.0).g
    if abs(worst) > max(limit, d) * (1 + 1e-9):
        yield Reason(
            Verdict.NOT_FIT,
            f"The empty pan came back to {as_shown(worst, d)}; {as_shown(limit, d)} would do. "
            "Look for something that touches the pan, and let the scale warm up.",
        )
    elif abs(worst) >= d * (1 - 1e-9):
        yield Reason(
            Verdict.FIT_WITH_LIMITS, f"The empty pan came back to {as_shown(worst, d)}: set zero before each part."
        )


def _repeats(readings: CheckReadings, figures: Figures) -> Iterator[Reason]:
    shown, d = readings.placements.shown_g, figures.promise.readability_g
    if len(shown) < PLACEMENTS:
        yield Reason(Verdict.FIT, f"Only {len(shown)} placements were read; {PLACEMENTS} say more.")
    if readings.plate is None:
        if figures.repeatability_g > d:  # by rounding alone it is 0.41 d; common practice, no source
            yield Reason(
                Verdict.FIT_WITH_LIMITS,
                f"The same load scatters by {figures.repeatability_g:.2g} g, more than one step of the display: "
                "keep draughts and shaking away, and weigh larger parts.",
            )
        return
    limit, spread = readings.limit_at(max(shown)).g, max(shown) - min(shown)
    if spread > limit + 1e-9:
        yield Reason(
            Verdict.NOT_FIT,
            f"The same load read from {as_shown(min(shown), d)} to {as_shown(max(shown), d)}; "
            f"{limit:.3g} g apart is the most in its class (OIML R 76-1:2006, 3.6.1).",
        )
    fine = readings.plate.accuracy_class in (AccuracyClass.I, AccuracyClass.II)
    if fine and figures.repeatability_g > permissible_repeatability_g(limit) + 1e-12:
        yield Reason(
            Verdict.NOT_FIT,
            f"The same load scatters by {figures.repeatability_g:.2g} g; "
            f"{permissible_repeatability_g(limit):.2g} g is the most for a fine scale.",
        )


def _corners(readings: CheckReadings, figures: Figures) -> Iterator[Reason]:
    if readings.corners is None or figures.corner_spread_g is None:
        yield Reason(Verdict.FIT_WITH_LIMITS, "The corners were not tested: keep the cup in the middle of the pan.")
    elif figures.corner_spread_g > readings.limit_at(readings.corners.load_g).g + 1e-9:
        d = figures.promise.readability_g
        place, differs = worst_corner(readings.corners)
        yield Reason(
            Verdict.FIT_WITH_LIMITS,
            f"Towards the {place} it reads {as_shown(abs(differs), d)} {'more' if differs > 0 else 'less'} "
            "than in the middle: keep the cup in the middle of the pan.",
        )


def _drift(readings: CheckReadings, figures: Figures) -> Iterator[Reason]:
    if figures.drift_g_per_h is None:
        yield Reason(Verdict.FIT_WITH_LIMITS, "Drift was not watched: set zero before each part.")
        return
    moved, d = abs(figures.drift_g_per_h) * readings.weighing_s / 3600, figures.promise.readability_g
    if moved > d / 2:
        yield Reason(
            Verdict.FIT_WITH_LIMITS,
            f"It drifts {abs(figures.drift_g_per_h):.2g} g an hour, {moved:.2g} g during one weighing: let it warm up "
            "longer, keep draughts away, and set zero before each part.",
        )


def _display(readings: CheckReadings, figures: Figures) -> Iterator[Reason]:
    if readings.stream is None:
        return
    seen = figures.readability
    if seen is None:
        yield Reason(Verdict.FIT, "The display moved too little to see its step.")
    elif abs(float(seen.step) - readings.readability_g) > 1e-9:
        yield Reason(
            Verdict.FIT_WITH_LIMITS,
            f"The display counts in steps of {seen.step:f} g, but {readings.readability_g:g} g is set. "
            "Set the readability that the scale shows.",
        )


def _settling(_readings: CheckReadings, figures: Figures) -> Iterator[Reason]:
    if figures.settling_s is not None and figures.settling_s >= 0.1:  # less cannot be waited for
        yield Reason(Verdict.FIT, f"Wait {figures.settling_s:.1f} s for the display to rest before you read it.")
