"""Workplace: what the bench brings to every plan, and what its scale and cup can hold."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from station.core.mass import ZERO, Mass
from station.core.material import Cup, Material, ScaleCard
from station.core.plan import Share, Way
from station.metrology.promise import ScalePromise

HALF_STEP_G = 0.0005
"""Masses to weigh are whole milligrams."""


@dataclass(frozen=True, slots=True)
class Workplace:
    """What the bench brings to every plan."""

    scale: ScaleCard
    cup: Cup
    ready_check: bool = True
    weighing_s: float = 40.0
    temperature_c: float | None = None
    today: date | None = None
    """The day, None while the wall clock is not trusted: then no date is judged."""
    promise: ScalePromise | None = None
    """From the last scale check; without one, only the rounding of the display is counted."""

    @property
    def promised(self) -> ScalePromise:
        """What the scale can promise."""
        return self.promise or ScalePromise(self.scale.readability.g, self.scale.maximum.g)


def problems_of(total: Mass, shares: tuple[Share, ...], place: Workplace) -> list[str]:
    """Every reason why cup, scale or lots cannot hold this batch, as sentences."""
    d = place.scale.readability
    problems = []
    if total > place.cup.capacity:
        problems.append(
            f"{total.text(d)} of mix do not fit: the {place.cup.title} holds {place.cup.capacity.text(d)}. "
            "Plan less, or set a larger cup."
        )
    if total + place.cup.empty >= place.scale.maximum:
        cup = f" and {place.cup.empty.text(d)} of cup" if place.cup.empty > ZERO else ""
        problems.append(
            f"{total.text(d)} of mix{cup} are beyond the scale, which ends at "
            f"{place.scale.maximum.text(d)} with the cup. Plan less."
        )
    factors = []
    for share in shares:
        least = place.promised.smallest_g(share.percent)
        if least is None:
            problems.append(
                f"By its last check this scale cannot hold ± {share.percent:g} % of {share.ingredient} at any mass: "
                "its error at the check weight takes the whole of it. Have it adjusted, or allow more."
            )
        elif share.planned.g < least:
            factors.append((least / _unrounded_g(share, shares, total), share, least))
        if share.stock is not None and share.planned > share.stock:
            problems.append(
                f"{share.planned.text(d)} of {share.ingredient} are needed, {share.stock.text(d)} are left of its lot. "
                "Plan less, or open another lot."
            )
    if factors:
        factor, share, least = max(factors, key=lambda item: item[0])
        problems.append(
            f"{_what_the_scale_is(place, d)} cannot hold ± {share.percent:g} % on {share.planned.text(d)} of "
            f"{share.ingredient}: it needs at least {Mass.nearest(least).text(d)}. "
            f"The smallest batch that works is {total.times(factor).text(d)}."
        )
    return problems


def _unrounded_g(share: Share, shares: tuple[Share, ...], total: Mass) -> float:
    """A share in grams, at least: of a tiny batch the mass to weigh is rounded to nothing, or to twice what it is."""
    without_cling = total.g * share.share / sum(one.share for one in shares)
    return max(without_cling, share.planned.g - HALF_STEP_G)


def _what_the_scale_is(place: Workplace, d: Mass) -> str:
    checked = (
        ""
        if place.promise is None
        else f", with what its last check found (s = {place.promise.repeatability_g:.3g} g),"
    )
    return f"A scale that reads to {d.text(d)}{checked}"


def margin(material: Material, shares: tuple[Share, ...], way: Way, place: Workplace) -> str:
    """How surely the scale holds the ratio of the first two components, as a sentence; empty for one component."""
    first, second = ([share for share in shares if share.component] + [None, None])[:2]
    if first is None or second is None:
        return ""
    allowed = material.tolerance_percent
    left = place.promised.ratio_margin_percent(first.planned.g, second.planned.g, allowed, one_cup=way is Way.ONE_CUP)
    source = "its last check" if place.promise is not None else "its readability alone; check it to know more"
    rest = f"± {left:.2g} % are left" if left > 0 else "nothing is left"
    return (
        f"Of the ± {allowed:g} % allowed for {first.ingredient}:{second.ingredient} the scale takes "
        f"± {allowed - left:.2g} % (k = 2), by {source}; {rest} for pouring."
    )
