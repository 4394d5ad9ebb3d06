"""Reasons of a scale check from its check weights, and from the class on its type plate."""

from __future__ import annotations

from collections.abc import Iterator

from station.metrology.check import CheckReadings, Figures
from station.metrology.classes import minimum_capacity_g, permissible_error_g
from station.metrology.figures import SHARE_OF_LIMIT, Against, LimitFrom, WeightFinding
from station.metrology.given import as_shown
from station.metrology.handbook44 import HandbookClass, tolerance_d
from station.metrology.readings import Plate
from station.metrology.reason import Reason, Verdict
from station.metrology.weights import NOMINALS_G, OfClass, coarsest_class
from station.texts import N_, number, t, tc

_LIMITS = {
    LimitFrom.CLASS: N_("the limit of its class in service, {g} g"),
    LimitFrom.TOLERANCE: N_("the limit of a third of the wanted tolerance, {g} g"),
}
_AGAINST = {
    Against.OUTSIDE: (
        Verdict.NOT_FIT,
        N_("With {weight} g on it reads {reads}, ± {u} g: beyond {limit}. Adjust it, then check again."),
    ),
    Against.CLOSE: (
        Verdict.FIT_WITH_LIMITS,
        N_("With {weight} g on it reads {reads}, ± {u} g: so near to {limit}, that it may be beyond."),
    ),
    Against.WITHIN: (Verdict.FIT, N_("With {weight} g on it reads {reads}, ± {u} g: within {limit}.")),
}


def weights(readings: CheckReadings, figures: Figures) -> Iterator[Reason]:
    """How far it is off with check weights on it, and whether these are known well enough to tell."""
    if not figures.weights:
        yield Reason(
            Verdict.FIT_WITH_LIMITS,
            t(
                "No check weight was used: ratios hold, for both parts are weighed on the same scale, but how "
                "many grams a gram is remains unproven."
            ),
        )
    for finding in figures.weights:
        yield _weight(finding, figures.promise.readability_g)
        if not finding.good_enough:
            yield Reason(Verdict.FIT_WITH_LIMITS, _too_coarse(finding))
    if readings.plate is not None:
        least = minimum_capacity_g(readings.plate.accuracy_class, readings.plate.e_g, readings.maximum_g)
        yield Reason(
            Verdict.FIT,
            t("Below {least} g, its Min, the class on the type plate promises nothing.", least=number(least)),
        )
        for finding in figures.weights:
            yield Reason(Verdict.FIT, _both_limits(readings.plate, finding.weight.nominal_g, readings.readability_g))


def _weight(finding: WeightFinding, d_g: float) -> Reason:
    allows, said = _AGAINST[finding.against]
    words = t(
        said,
        weight=number(finding.weight.nominal_g),
        reads=_reads(finding.error_g, d_g),
        u=number(finding.expanded_g, ".2g"),
        limit=t(_LIMITS[finding.limit.source], g=number(finding.limit.g, ".3g")),
    )
    return Reason(allows, words)


def _reads(error_g: float, d_g: float) -> str:
    """What the reading is off by, in words that follow "it reads"."""
    if abs(error_g) < d_g / 1000:
        return tc("what a scale reads", "right")
    off = as_shown(abs(error_g), d_g / 10)
    return t("{off} too much", off=off) if error_g > 0 else t("{off} too little", off=off)


def _both_limits(plate: Plate, load_g: float, d_g: float) -> str:
    """What two bodies of rules allow at this load in use; they count differently, so neither stands for the other."""
    in_service = permissible_error_g(plate.accuracy_class, load_g, plate.e_g, in_service=True)
    handbook = tolerance_d(HandbookClass(plate.accuracy_class.value), load_g / d_g) * d_g
    return t(
        "In use, a scale of class {accuracy_class} may be off by {in_service} g at {load_g} g by OIML R "
        "76, by {handbook} g by NIST Handbook 44.",
        accuracy_class=plate.accuracy_class,
        in_service=number(in_service),
        load_g=number(load_g),
        handbook=number(handbook),
    )


def _too_coarse(finding: WeightFinding) -> str:
    weight, third = finding.weight, SHARE_OF_LIMIT * finding.limit.g
    better = coarsest_class(weight.nominal_g, third) if weight.nominal_g in NOMINALS_G else None
    said = (
        N_(
            "The {weight} g check weight may itself be off by {bound} g, more than a third of the limit, {third} g. "
            "Use one of class {better} or better."
        )
        if isinstance(weight.known_by, OfClass) and better is not None
        else N_(
            "The {weight} g check weight may itself be off by {bound} g, more than a third of the limit, {third} g. "
            "Use one that is known better."
        )
    )
    return t(
        said,
        weight=number(weight.nominal_g),
        bound=number(weight.bound_g, ".3g"),
        third=number(third, ".2g"),
        better=better,
    )
