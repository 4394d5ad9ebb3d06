"""Workplace: what the bench brings to every plan, and what its scale and cup can hold."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from station.core.mass import ZERO, Mass
from station.core.material import Cup, Material, ScaleCard
from station.core.plan import Share, Way
from station.metrology.promise import ScalePromise
from station.texts import number, t

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
    humidity_percent: float | None = None
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
            t(
                "{total} of mix do not fit: the {cup} holds {capacity}. Plan less, or set a larger cup.",
                total=total.text(d),
                cup=place.cup.title,
                capacity=place.cup.capacity.text(d),
            )
        )
    if total + place.cup.empty >= place.scale.maximum:
        cup = t(" and {empty} of cup", empty=place.cup.empty.text(d)) if place.cup.empty > ZERO else ""
        problems.append(
            t(
                "{total} of mix{cup} are beyond the scale, which ends at {maximum} with the cup. Plan less.",
                total=total.text(d),
                cup=cup,
                maximum=place.scale.maximum.text(d),
            )
        )
    factors = []
    for share in shares:
        least = place.promised.smallest_g(share.percent)
        if least is None:
            problems.append(
                t(
                    "By its last check this scale cannot hold ± {percent} % of {ingredient} at any mass: its error at "
                    "the check weight takes the whole of it. Have it adjusted, or allow more.",
                    percent=number(share.percent),
                    ingredient=share.ingredient,
                )
            )
        elif share.planned.g < least:
            factors.append((least / _unrounded_g(share, shares, total), share, least))
        if share.stock is not None and share.planned > share.stock:
            problems.append(
                t(
                    "{planned} of {ingredient} are needed, {stock} are left of its lot. Plan less, or open another "
                    "lot.",
                    planned=share.planned.text(d),
                    ingredient=share.ingredient,
                    stock=share.stock.text(d),
                )
            )
    if factors:
        factor, share, least = max(factors, key=lambda item: item[0])
        problems.append(
            t(
                "{place} cannot hold ± {percent} % on {planned} of {ingredient}: it needs at least {least}. The "
                "smallest batch that works is {factor}.",
                place=_what_the_scale_is(place, d),
                percent=number(share.percent),
                planned=share.planned.text(d),
                ingredient=share.ingredient,
                least=Mass.nearest(least).text(d),
                factor=total.times(factor).text(d),
            )
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
        else t(
            ", with what its last check found (s = {repeatability_g} g),",
            repeatability_g=number(place.promise.repeatability_g, ".3g"),
        )
    )
    return t("A scale that reads to {d}{checked}", d=d.text(d), checked=checked)


def margin(material: Material, shares: tuple[Share, ...], way: Way, place: Workplace) -> str:
    """How surely the scale holds the ratio of the first two components, as a sentence; empty for one component."""
    first, second = ([share for share in shares if share.component] + [None, None])[:2]
    if first is None or second is None:
        return ""
    allowed = material.tolerance_percent
    left = place.promised.ratio_margin_percent(first.planned.g, second.planned.g, allowed, one_cup=way is Way.ONE_CUP)
    source = t("its last check") if place.promise is not None else t("its readability alone; check it to know more")
    rest = t("± {left} % are left", left=number(left, ".2g")) if left > 0 else t("nothing is left")
    return t(
        "Of the ± {allowed} % allowed for {ingredient}:{ingredient2} the scale takes ± {allowed2} % (k = 2), "
        "by {source}; {rest} for pouring.",
        allowed=number(allowed),
        ingredient=first.ingredient,
        ingredient2=second.ingredient,
        allowed2=number(allowed - left, ".2g"),
        source=source,
        rest=rest,
    )
