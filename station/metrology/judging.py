"""Reasons of a scale check from its readings: each a function of the readings and the figures made of them."""

from __future__ import annotations

from collections.abc import Iterator

from station.metrology.check import CheckReadings, Figures
from station.metrology.classes import AccuracyClass, permissible_repeatability_g
from station.metrology.figures import worst_corner
from station.metrology.given import as_shown
from station.metrology.readings import PLACEMENTS
from station.metrology.reason import Reason, Verdict
from station.metrology.tolerance import COVERAGE
from station.texts import N_, decimal, number, t


def smallest(readings: CheckReadings, figures: Figures) -> Iterator[Reason]:
    """The smallest part that it can promise, and what stands in the way of one."""
    promise, percent = figures.promise, readings.wanted_percent
    least, off = promise.smallest_g(percent), 100 * promise.sensitivity_error
    if least is None:
        yield Reason(Verdict.NOT_FIT, promise.sentence(percent))
        if abs(off) >= percent:
            yield Reason(
                Verdict.NOT_FIT,
                t("Its reading is off by {off} % alone. Adjust it, then check again.", off=number(abs(off), ".2g")),
            )
        elif COVERAGE * 100 * promise.sensitivity_u >= (percent - abs(off)) / 2:
            yield Reason(
                Verdict.NOT_FIT,
                t(
                    "Its sensitivity is only known to ± {coverage} %. Check with a heavier weight, or one "
                    "that is known better.",
                    coverage=number(COVERAGE * 100 * promise.sensitivity_u, ".2g"),
                ),
            )
        return
    part = readings.smallest_part_g
    held = part is None or least <= part * (1 + 1e-9)
    yield Reason(Verdict.FIT if held else Verdict.FIT_WITH_LIMITS, promise.sentence(percent))
    if part is not None and not held:
        reach = 100 * (COVERAGE * promise.u_g(part) / part) + abs(off)
        yield Reason(
            Verdict.FIT_WITH_LIMITS,
            t(
                "Your smallest part, {part} g, is held to ± {reach} % only: plan larger batches, or a finer scale.",
                part=number(part),
                reach=number(reach, ".2g"),
            ),
        )


def zero(readings: CheckReadings, figures: Figures) -> Iterator[Reason]:
    """Whether the empty pan comes back to zero."""
    d = figures.promise.readability_g
    worst, limit = figures.zero_return_g, readings.limit_at(0.0).g
    if abs(worst) > max(limit, d) * (1 + 1e-9):
        yield Reason(
            Verdict.NOT_FIT,
            t(
                "The empty pan came back to {worst}; {limit} would do. Look for something that touches the "
                "pan, and let the scale warm up.",
                worst=as_shown(worst, d),
                limit=as_shown(limit, d),
            ),
        )
    elif abs(worst) >= d * (1 - 1e-9):
        yield Reason(
            Verdict.FIT_WITH_LIMITS,
            t("The empty pan came back to {worst}: set zero before each part.", worst=as_shown(worst, d)),
        )


def repeats(readings: CheckReadings, figures: Figures) -> Iterator[Reason]:
    """Whether the same load reads the same each time."""
    shown, d = readings.placements.shown_g, figures.promise.readability_g
    if len(shown) < PLACEMENTS:
        yield Reason(
            Verdict.FIT,
            t("Only {placed} placements were read; {most} say more.", placed=len(shown), most=PLACEMENTS),
        )
    if readings.plate is None:
        if figures.repeatability_g > d:  # by rounding alone it is 0.41 d; common practice, no source
            yield Reason(
                Verdict.FIT_WITH_LIMITS,
                t(
                    "The same load scatters by {repeatability_g} g, more than one step of the display: keep "
                    "draughts and shaking away, and weigh larger parts.",
                    repeatability_g=number(figures.repeatability_g, ".2g"),
                ),
            )
        return
    limit, spread = readings.limit_at(max(shown)).g, max(shown) - min(shown)
    if spread > limit + 1e-9:
        yield Reason(
            Verdict.NOT_FIT,
            t(
                "The same load read from {least} to {most}; {limit} g apart is the most in its class (OIML "
                "R 76-1:2006, 3.6.1).",
                least=as_shown(min(shown), d),
                most=as_shown(max(shown), d),
                limit=number(limit, ".3g"),
            ),
        )
    fine = readings.plate.accuracy_class in (AccuracyClass.I, AccuracyClass.II)
    if fine and figures.repeatability_g > permissible_repeatability_g(limit) + 1e-12:
        yield Reason(
            Verdict.NOT_FIT,
            t(
                "The same load scatters by {repeatability_g} g; {limit} g is the most for a fine scale.",
                repeatability_g=number(figures.repeatability_g, ".2g"),
                limit=number(permissible_repeatability_g(limit), ".2g"),
            ),
        )


def corners(readings: CheckReadings, figures: Figures) -> Iterator[Reason]:
    """Whether the place of the load matters."""
    if readings.corners is None or figures.corner_spread_g is None:
        yield Reason(Verdict.FIT_WITH_LIMITS, t("The corners were not tested: keep the cup in the middle of the pan."))
    elif figures.corner_spread_g > readings.limit_at(readings.corners.load_g).g + 1e-9:
        d = figures.promise.readability_g
        place, differs = worst_corner(readings.corners)
        said = (
            N_("Towards the {place} it reads {differs} more than in the middle: keep the cup in the middle of the pan.")
            if differs > 0
            else N_(
                "Towards the {place} it reads {differs} less than in the middle: keep the cup in the middle of the pan."
            )
        )
        yield Reason(Verdict.FIT_WITH_LIMITS, t(said, place=place, differs=as_shown(abs(differs), d)))


def drift(readings: CheckReadings, figures: Figures) -> Iterator[Reason]:
    """Whether a load left alone wanders."""
    if figures.drift_g_per_h is None:
        yield Reason(Verdict.FIT_WITH_LIMITS, t("Drift was not watched: set zero before each part."))
        return
    moved, d = abs(figures.drift_g_per_h) * readings.weighing_s / 3600, figures.promise.readability_g
    if moved > d / 2:
        yield Reason(
            Verdict.FIT_WITH_LIMITS,
            t(
                "It drifts {drift_g_per_h} g an hour, {moved} g during one weighing: let it warm up longer, "
                "keep draughts away, and set zero before each part.",
                drift_g_per_h=number(abs(figures.drift_g_per_h), ".2g"),
                moved=number(moved, ".2g"),
            ),
        )


def display(readings: CheckReadings, figures: Figures) -> Iterator[Reason]:
    """Whether the display counts as it is set."""
    if readings.stream is None:
        return
    seen = figures.readability
    if seen is None:
        yield Reason(Verdict.FIT, t("The display moved too little to see its step."))
    elif abs(float(seen.step) - readings.readability_g) > 1e-9:
        yield Reason(
            Verdict.FIT_WITH_LIMITS,
            t(
                "The display counts in steps of {step} g, but {readability_g} g is set. Set the readability "
                "that the scale shows.",
                step=decimal(f"{seen.step:f}"),
                readability_g=number(readings.readability_g),
            ),
        )


def settling(_readings: CheckReadings, figures: Figures) -> Iterator[Reason]:
    """How long the display needs."""
    if figures.settling_s is not None and figures.settling_s >= 0.1:  # less cannot be waited for
        yield Reason(
            Verdict.FIT,
            t(
                "Wait {settling_s} s for the display to rest before you read it.",
                settling_s=number(figures.settling_s, ".1f"),
            ),
        )
