"""Adopted advice in plans: the sheet as the workshop's own casts have tightened it, and the shot that they told."""

from __future__ import annotations

import math
from dataclasses import replace

from station.core.advice_events import AdviceAdopted, AdviceKind
from station.core.amount import given, loss_of
from station.core.mass import Mass
from station.core.material import FoamFacts, Material, Mold, Times
from station.core.mix_amount import Amount
from station.core.standing import Standing
from station.core.workplace import Workplace
from station.texts import N_, number, t

MOST_NAMED = 6
_FROM_CASTS = N_("{total} adopted for {mold}")


def as_adopted(material: Material, standing: Standing) -> Material:
    """The sheet with its limits as adopted. A pot life is only ever shortened, mix and demold time only lengthened.

    Where both together would leave no time to pour, neither is used.
    """
    found = {one.kind: one.value for one in standing.adopted if one.material == material.key and not one.kind.of_mold}
    times = material.times
    pot = min(times.pot_life_s, found.get(AdviceKind.POUR_BY, times.pot_life_s))
    mix = max(times.mix_s, found.get(AdviceKind.MIX_TIME, times.mix_s))
    if mix + times.pour_reserve_s <= pot:
        times = replace(times, pot_life_s=pot, mix_s=mix)
    if AdviceKind.CURE in found:
        times = _longer_in_mold(times, 3600 * found[AdviceKind.CURE])
    low, high = found.get(AdviceKind.PACKING_LOW), found.get(AdviceKind.PACKING_HIGH)
    foam = material.foam
    if (low or high) and foam is not None:
        foam = _packed(foam, low, high)
    return replace(material, times=times, foam=foam)


def _longer_in_mold(times: Times, least_s: float) -> Times:
    """The sheet's times with a part never out of its mold before `least_s`, at whatever temperature of the sheet."""
    longer = tuple(
        one if one.demold_s is None else replace(one, demold_s=max(one.demold_s, least_s)) for one in times.at
    )
    full = None if times.full_cure_s is None else max(times.full_cure_s, least_s)
    return replace(times, demold_s=max(times.demold_s, least_s), full_cure_s=full, at=longer)


def _packed(foam: FoamFacts, low: float | None, high: float | None) -> FoamFacts:
    """The sheet's packing factors with those that the casts told, never wider than the sheet's own."""
    if low is not None and foam.packing_low is not None:
        low = max(low, foam.packing_low)
    if high is not None and foam.packing_high is not None:
        high = min(high, foam.packing_high)
    low, high = low or foam.packing_low, high or foam.packing_high
    if low is not None and high is not None and low >= high:
        return foam
    return replace(foam, packing_low=low, packing_high=high)


def adopted_notes(material: Material, standing: Standing) -> tuple[str, ...]:
    """What a plan of this material uses besides its sheet, a sentence each."""
    used = as_adopted(material, standing)
    foam = used.foam
    in_plan: dict[AdviceKind, float | None] = {
        AdviceKind.POUR_BY: used.times.pot_life_s,
        AdviceKind.MIX_TIME: used.times.mix_s,
        AdviceKind.CURE: used.times.demold_s / 3600,
        AdviceKind.PACKING_LOW: None if foam is None else foam.packing_low,
        AdviceKind.PACKING_HIGH: None if foam is None else foam.packing_high,
    }
    said = []
    for one in standing.adopted:
        used_value = in_plan.get(one.kind)
        if one.material != material.key or used_value is None or not math.isclose(used_value, one.value):
            continue
        said.append(
            t(
                "{what}: {value}, adopted from your own casts ({casts}).",
                what=_capital(t(one.kind.value)),
                value=value_words(one),
                casts=casts_words(one),
            )
        )
    return tuple(said)


def shot_adopted(material: Material, mold: Mold, standing: Standing) -> AdviceAdopted | None:
    """The shot that was adopted for this mold and material; None when none was."""
    return next(
        (one for one in standing.adopted if one.kind.of_mold and (one.mold, one.material) == (mold.key, material.key)),
        None,
    )


def amount_adopted(
    material: Material, mold: Mold, advice: AdviceAdopted, *, place: Workplace, standing: Standing
) -> Amount:
    """The mix for an adopted shot, with how it came about and what it does in this mold."""
    if advice.kind is AdviceKind.MIX:
        total, lost = Mass.nearest(advice.value), ""
    else:
        loss = loss_of(place, standing)
        total = Mass.nearest(advice.value / (1 - loss.percent / 100))
        lost = f" ÷ (1 − {number(loss.percent, '.1f')}/100), {loss.source}"
    amount = given(material, mold, total, _FROM_CASTS, place=place, standing=standing)
    rule = t(
        "{total} = {value} {what}, adopted from your own casts ({casts}){lost}",
        total=total.text(place.scale.readability),
        value=value_words(advice),
        what=t(advice.kind.value),
        casts=casts_words(advice),
        lost=lost,
    )
    return replace(amount, rule=rule)


def value_words(advice: AdviceAdopted) -> str:
    """The adopted value with its unit."""
    decimals = {"g": ".1f", "s": ".0f", "h": ".1f", "": ".3f"}[advice.kind.unit]
    return f"{number(advice.value, decimals)} {advice.kind.unit}".strip()


def casts_words(advice: AdviceAdopted) -> str:
    """The numbers of the casts that it comes from, shortened where they are many."""
    numbers = [str(one) for one in advice.from_casts]
    if len(numbers) <= MOST_NAMED:
        return ", ".join(numbers)
    return t("{n} casts, {first} to {last}", n=len(numbers), first=numbers[0], last=numbers[-1])


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
