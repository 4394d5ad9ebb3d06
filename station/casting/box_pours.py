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

THINNEST_MM = 6.0
THINNEST_PART = 0.04
"""Wall as part of the longest side, below which a mold bends under its own weight: common practice, no source."""
_UNDERCUTS = ((15.0, 0.25), (25.0, 0.15), (35.0, 0.08), (60.0, 0.03))
"""Shore A up to → undercut as part of the smaller side that a mold still peels over: our own guess, no source."""


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
        raise Refused("There is nothing to pour.", "Give the box and the density.")
    limits: list[tuple[float, str]] = []
    if cup_holds_g is not None:
        limits.append((_some(cup_holds_g, "The cup"), f"the cup holds {digits(cup_holds_g)} g"))
    if scale_most_g is not None:
        left = _some(scale_most_g - cup_g, "The scale, less the empty cup,")
        less = f" − {digits(cup_g)} g for the empty cup" if cup_g else ""
        limits.append((left, f"the scale weighs up to {digits(scale_most_g)} g{less}"))
    counted = sorted(((_count(total_g, most), most, why) for most, why in limits), key=lambda one: one[1])
    count = max((one[0] for one in counted), default=1)
    reasons = tuple(
        f"{times} pour{'s' if times != 1 else ''}: {why}, and {digits(total_g)} g ÷ {digits(most)} g = "
        f"{digits(total_g / most, 3)}."
        for times, most, why in counted
    )
    return Pours(count, total_g / count, reasons)


def margin_sentence(margin_g: float, count: int) -> str:
    """What is to be known of the margin of a batch that goes in `count` pours."""
    if margin_g <= 0:
        said = "No margin is mixed: should the level stay low, what has cured cannot be topped up cleanly."
    else:
        share = "shared out over the pours" if count > 1 else "mixed in the same go"
        said = (
            f"{digits(margin_g)} g of it are margin, {share}: what has cured cannot be topped up cleanly, for the "
            "seam traps air and may open."
        )
    if count > 1:
        said += (
            " The next pour bonds only while the last is wet or gelled, within the time on its data sheet: have its "
            "components weighed out before."
        )
    return said


def stock_sentence(total_g: float, stock_g: float, first_g: float | None = None) -> str:
    """What the material left means for a batch of `total_g`, `first_g` of it the first half of a two-piece mold.

    Raises Refused for stock below zero.
    """
    if not (math.isfinite(stock_g) and stock_g >= 0):
        raise Refused("Stock cannot be less than nothing.", "Type what is left, or leave it empty.")
    if stock_g >= total_g:
        return f"{digits(stock_g)} g in stock are enough; {digits(stock_g - total_g)} g are left."
    if first_g is not None and stock_g >= first_g:
        return (
            f"{digits(stock_g)} g in stock are enough for the first half; {digits(total_g - stock_g)} g are missing "
            "for the other, which may follow when they are there."
        )
    return (
        f"Only {digits(stock_g)} g are in stock: {digits(total_g - stock_g)} g are missing, a part of "
        f"{digits(100 * stock_g / total_g, 3)} % is all they make. Do not begin before the rest is there: "
        "a second pour must follow while the first is still wet."
    )


def warnings(plan: Plan, *, undercut: float | None = None, hardness: float | None = None) -> tuple[str, ...]:
    """Sentences about walls too thin, and an undercut too deep for a Shore A hardness. Raises Refused for a hardness
    off the scale, or an undercut below zero."""
    found = []
    if undercut is not None and not (math.isfinite(undercut) and undercut >= 0):
        raise Refused("An undercut cannot be less than nothing.", "Type its depth, or leave it empty.")
    least = max(THINNEST_MM, THINNEST_PART * max(plan.extents))
    thin = {"side": plan.walls.side, "floor": plan.walls.below, "top": plan.walls.above}
    found += [
        f"The {name} of {length(wall)} is thin: {length(least)} is the least for a positive "
        f"{length(max(plan.extents))} long ({THINNEST_MM:g} mm, or {100 * THINNEST_PART:g} % of the longest side: "
        "common practice, no source)."
        for name, wall in thin.items()
        if wall < least - 1e-9
    ]
    if undercut is not None and hardness is not None:
        deepest = deepest_undercut(plan, hardness)
        if undercut > deepest:
            found.append(
                f"An undercut of {length(undercut)} is deep for Shore A {hardness:g}: about {length(deepest)} still "
                "peels off this positive (our own guess, no source). A softer silicone, "
                "or a mold in more pieces, comes off more easily."
            )
    return tuple(found)


def deepest_undercut(plan: Plan, hardness: float) -> float:
    """Undercut in mm that a mold of this Shore A hardness may peel over: our own guess, no source."""
    if not 0 <= hardness <= 100:
        raise Refused(f"Shore A {hardness:g} is none.", "The scale goes from 0 to 100 (ISO 48-4).")
    part = next((part for up_to, part in _UNDERCUTS if hardness <= up_to), 0.0)
    return part * min(plan.extents)


def _some(grams: float, what: str) -> float:
    if not (math.isfinite(grams) and grams > 0):
        raise Refused(f"{what} has no room for any silicone.", "Check its limit, and the mass of the cup.")
    return grams


def _count(total: float, most: float) -> int:
    return max(1, math.ceil(total / most - 1e-9))
