"""Into how many pours a batch of silicone must be split, and what about a box deserves a warning.

Masses in g, lengths in mm. The limits of walls are common practice, no source; those of undercuts our own guess.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from station.casting.digits import digits
from station.casting.moldbox import Plan
from station.casting.written_mm import length
from station.errors import Refused
from station.texts import N_, number, t, tn

THINNEST_MM = 6.0
THINNEST_PART = 0.04
"""Wall as part of the longest side, below which a mold bends under its own weight: common practice, no source."""
_UNDERCUTS = ((15.0, 0.25), (25.0, 0.15), (35.0, 0.08), (60.0, 0.03))
"""Shore A up to → undercut as part of the smaller side that a mold still peels over: our own guess, no source."""


_THIN_SIDE = N_(
    "The side of {wall} is thin: {least} is the least for a positive {longest} long ({mm} mm, or {percent} % of the "
    "longest side: common practice, no source)."
)
_THIN_FLOOR = N_(
    "The floor of {wall} is thin: {least} is the least for a positive {longest} long ({mm} mm, or {percent} % of the "
    "longest side: common practice, no source)."
)
_THIN_TOP = N_(
    "The top of {wall} is thin: {least} is the least for a positive {longest} long ({mm} mm, or {percent} % of the "
    "longest side: common practice, no source)."
)


@dataclass(frozen=True, slots=True)
class Pours:
    """`count` equal pours of `each_g`, and a sentence for every limit, the tightest first."""

    count: int
    each_g: float
    reasons: tuple[str, ...]


def pours(total_g: float, *, cup_holds_g: float | None, scale_most_g: float | None, cup_g: float = 0.0) -> Pours:
    """Equal pours so that each fits the cup (`cup_holds_g` of mix) and, with a cup of `cup_g`, the scale.

    Raises Refused for a limit that leaves nothing.
    """
    if not (math.isfinite(total_g) and total_g > 0):
        raise Refused(t("There is nothing to pour."), t("Give the box and the density."))
    limits: list[tuple[float, str]] = []
    if cup_holds_g is not None:
        if not _some(cup_holds_g):
            raise Refused(t("The cup has no room for any silicone."), t("Check its limit, and the mass of the cup."))
        limits.append((cup_holds_g, t("the cup holds {grams} g", grams=digits(cup_holds_g))))
    if scale_most_g is not None:
        if not _some(scale_most_g - cup_g):
            raise Refused(
                t("The scale, less the empty cup, has no room for any silicone."),
                t("Check its limit, and the mass of the cup."),
            )
        limits.append((scale_most_g - cup_g, _scale_words(scale_most_g, cup_g)))
    counted = sorted(((_count(total_g, most), most, why) for most, why in limits), key=lambda one: one[1])
    count = max((one[0] for one in counted), default=1)
    reasons = tuple(
        tn(
            "{n} pour: {why}, and {total} g ÷ {most} g = {exactly}.",
            "{n} pours: {why}, and {total} g ÷ {most} g = {exactly}.",
            times,
            why=why,
            total=digits(total_g),
            most=digits(most),
            exactly=digits(total_g / most, 3),
        )
        for times, most, why in counted
    )
    return Pours(count, total_g / count, reasons)


def _scale_words(most_g: float, cup_g: float) -> str:
    if not cup_g:
        return t("the scale weighs up to {most} g", most=digits(most_g))
    return t("the scale weighs up to {most} g − {cup} g for the empty cup", most=digits(most_g), cup=digits(cup_g))


def margin_sentence(margin_g: float, count: int) -> str:
    """What is to be known of the margin of a batch that goes in `count` pours."""
    if margin_g <= 0:
        said = t("No margin is mixed: should the level stay low, what has cured cannot be topped up cleanly.")
    else:
        margin = digits(margin_g)
        said = (
            t(
                "{margin} g of it are margin, shared out over the pours: what has cured cannot be topped up cleanly, "
                "for the seam traps air and may open.",
                margin=margin,
            )
            if count > 1
            else t(
                "{margin} g of it are margin, mixed in the same go: what has cured cannot be topped up cleanly, for "
                "the seam traps air and may open.",
                margin=margin,
            )
        )
    if count > 1:
        said += t(
            " The next pour bonds only while the last is wet or gelled, within the time on its data "
            "sheet: have its components weighed out before."
        )
    return said


def stock_sentence(total_g: float, stock_g: float, first_g: float | None = None) -> str:
    """What the material left means for a batch of `total_g`, `first_g` of it the first half of a two-piece mold.

    Raises Refused for stock below zero.
    """
    if not (math.isfinite(stock_g) and stock_g >= 0):
        raise Refused(t("Stock cannot be less than nothing."), t("Type what is left, or leave it empty."))
    if stock_g >= total_g:
        return t(
            "{stock} g in stock are enough; {left} g are left.",
            stock=digits(stock_g),
            left=digits(stock_g - total_g),
        )
    if first_g is not None and stock_g >= first_g:
        return t(
            "{stock} g in stock are enough for the first half; {missing} g are missing for the other, which may "
            "follow when they are there.",
            stock=digits(stock_g),
            missing=digits(total_g - stock_g),
        )
    return t(
        "Only {stock} g are in stock: {missing} g are missing, a part of {percent} % is all they make. Do not begin "
        "before the rest is there: a second pour must follow while the first is still wet.",
        stock=digits(stock_g),
        missing=digits(total_g - stock_g),
        percent=digits(100 * stock_g / total_g, 3),
    )


def warnings(plan: Plan, *, undercut: float | None = None, hardness: float | None = None) -> tuple[str, ...]:
    """Sentences about walls too thin, and an undercut too deep for a Shore A hardness. Raises Refused for a hardness
    off the scale, or an undercut below zero."""
    found = []
    if undercut is not None and not (math.isfinite(undercut) and undercut >= 0):
        raise Refused(t("An undercut cannot be less than nothing."), t("Type its depth, or leave it empty."))
    least = max(THINNEST_MM, THINNEST_PART * max(plan.extents))
    walls = ((plan.walls.side, _THIN_SIDE), (plan.walls.below, _THIN_FLOOR), (plan.walls.above, _THIN_TOP))
    found += [
        t(
            said,
            wall=length(wall),
            least=length(least),
            longest=length(max(plan.extents)),
            mm=number(THINNEST_MM),
            percent=number(100 * THINNEST_PART),
        )
        for wall, said in walls
        if wall < least - 1e-9
    ]
    if undercut is not None and hardness is not None:
        deepest = deepest_undercut(plan, hardness)
        if undercut > deepest:
            found.append(
                t(
                    "An undercut of {undercut} is deep for Shore A {hardness}: about {deepest} still peels "
                    "off this positive (our own guess, no source). A softer silicone, or a mold in more "
                    "pieces, comes off more easily.",
                    undercut=length(undercut),
                    hardness=number(hardness),
                    deepest=length(deepest),
                )
            )
    return tuple(found)


def deepest_undercut(plan: Plan, hardness: float) -> float:
    """Undercut in mm that a mold of this Shore A hardness may peel over: our own guess, no source."""
    if not 0 <= hardness <= 100:
        raise Refused(
            t("Shore A {hardness} is none.", hardness=number(hardness)), t("The scale goes from 0 to 100 (ISO 48-4).")
        )
    part = next((part for up_to, part in _UNDERCUTS if hardness <= up_to), 0.0)
    return part * min(plan.extents)


def _some(grams: float) -> bool:
    return math.isfinite(grams) and grams > 0


def _count(total: float, most: float) -> int:
    return max(1, math.ceil(total / most - 1e-9))
