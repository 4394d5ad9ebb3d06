"""Planning: from a material, a mold and an amount to the steps of a cast, or to all reasons why not."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

from station.casting.cling import cling_percent, with_allowance
from station.casting.moisture import chemistry_caution
from station.core.adopted import adopted_notes, as_adopted
from station.core.batch import rule_words, weigh_step
from station.core.costing import cost_note
from station.core.forecast import forecast
from station.core.lots import lot_notes
from station.core.mass import ZERO, Mass
from station.core.material import TOTAL, Additive, Lot, Material, Mold
from station.core.mix_amount import Amount
from station.core.mold_care import release_due, retired_words
from station.core.moment import Moment
from station.core.plan import CastPlan, Share, Way
from station.core.plan_notes import sheet_notes
from station.core.pourable import small_amounts
from station.core.shares import component_shares
from station.core.standing import Cast, Standing
from station.core.steps import (
    Close,
    Combine,
    Cure,
    Mix,
    PlaceCup,
    Pour,
    PreMix,
    ReadyCheck,
    Step,
    Weigh,
    WeighEmptied,
)
from station.core.workplace import Workplace, margin, problems_of
from station.errors import Refused
from station.metrology.tolerance import window_mg
from station.texts import N_, t, tn

MIXING = N_("mixing cup")

RELEASE_ON = N_("release agent on the mold")

ALWAYS_READY = (N_("gloves on"), N_("glasses on"), N_("ventilation runs"))


class Impossible(Refused):
    """A batch that cannot work; `problems` are all the reasons, a sentence or two each."""

    def __init__(self, problems: list[str]) -> None:
        super().__init__(" ".join(problems))
        self.problems = tuple(problems)


def planned(
    material: Material,
    mold: Mold,
    amount: Mass | Amount,
    *,
    place: Workplace,
    standing: Standing,
    lots: tuple[Lot, ...] = (),
) -> CastPlan:
    """The plan for an amount of mix (additives included), with the limits that were adopted from earlier casts.

    Raises Impossible with every reason why it cannot work.
    """
    material = as_adopted(material, standing)
    amount = amount if isinstance(amount, Amount) else Amount(amount, "")
    total = amount.total
    if total <= ZERO:
        raise Refused(t("The amount must be above zero."), t("Enter the mass of mix that goes into the mold."))
    ahead = forecast(material, total.g, place.temperature_c)
    way, reason = chosen_way(material, place.weighing_s, ahead.pot_life_s)
    shares = _shares(material, total, way, standing, lots)
    problems = [
        *filter(None, (retired_words(mold, standing.molds), ahead.impossible)),
        *problems_of(total, shares, place),
    ]
    if problems:
        raise Impossible(problems)
    due = release_due(mold, standing.molds)
    plan = CastPlan(
        material=material,
        mold=mold,
        total=total,
        way=way,
        way_reason=reason,
        shares=shares,
        steps=(),
        scale=place.scale,
        cup=place.cup,
        lots=lots,
        notes=tuple(
            filter(
                None,
                (
                    amount.rule,
                    *amount.notes,
                    *ahead.notes,
                    margin(material, shares, way, place),
                    *adopted_notes(material, standing),
                    *sheet_notes(material, lots),
                    cost_note(material, mold, shares),
                ),
            )
        ),
        warnings=(
            *filter(None, (due, _air(material, place))),
            *small_amounts(material.key, total, shares, place, standing.pours),
            *amount.warnings,
            *ahead.warnings,
            *lot_notes(lots, material, standing, place.today),
        ),
        temperature_c=place.temperature_c,
        weighing_s=place.weighing_s,
        pot_life_s=ahead.pot_life_s,
        humidity_percent=place.humidity_percent,
    )
    return _with_steps(plan, place.ready_check, due)


def _air(material: Material, place: Workplace) -> str:
    """What the air's humidity means for this system; empty when it is dry enough, or nobody knows."""
    percent = place.humidity_percent
    return "" if percent is None else chemistry_caution(material.chemistry, percent)


def chosen_way(material: Material, weighing_s: float, pot_life_s: float | None = None) -> tuple[Way, str]:
    """One cup or two, and why: the pot life must outlast weighing the reactive components, mixing and pouring."""
    times = material.times
    limit = times.pot_life_s if pot_life_s is None else pot_life_s
    reactive = len(material.components) - 1
    need = reactive * weighing_s + times.mix_s + times.pour_reserve_s
    sums = tn(
        "weighing {n} reactive component about {weighing} s, mixing {mixing} s, pouring {pouring} s: {need} s "
        "together, pot life {limit} s",
        "weighing {n} reactive components about {weighing} s, mixing {mixing} s, pouring {pouring} s: {need} s "
        "together, pot life {limit} s",
        reactive,
        weighing=f"{reactive * weighing_s:.0f}",
        mixing=f"{times.mix_s:.0f}",
        pouring=f"{times.pour_reserve_s:.0f}",
        need=f"{need:.0f}",
        limit=f"{limit:.0f}",
    )
    if need > limit:
        return Way.TWO_CUPS, t("Each component in its own cup, combined at the end: {sums}.", sums=sums)
    return Way.ONE_CUP, t("All into one cup: {sums}.", sums=sums)


def _shares(material: Material, total: Mass, way: Way, standing: Standing, lots: tuple[Lot, ...]) -> tuple[Share, ...]:
    by_component = component_shares(material)
    by_additive = {a.name: a.percent / 100 * (1.0 if a.of == TOTAL else by_component[a.of]) for a in material.additives}
    components_g = total.g / (1 + sum(by_additive.values()))
    shares = []
    for name in _order(material, way):
        transferred = components_g * by_component[name]
        percent = 0.0
        if way is Way.TWO_CUPS and name != material.pour_into:
            percent = cling_percent(material.cling_percent, standing.cling_percents(material.key, name))
        weighed = Mass.nearest(with_allowance(transferred, percent))
        stays = weighed - Mass.nearest(transferred)
        cup = MIXING if way is Way.ONE_CUP else name
        stock = _stock(name, standing, lots)
        shares.append(Share(name, cup, by_component[name], weighed, material.tolerance_percent, stays, stock))
        for additive in _into(material, name):
            mass = Mass.nearest(components_g * by_additive[additive.name])
            stock = _stock(additive.name, standing, lots)
            shares.append(
                Share(
                    additive.name,
                    cup,
                    by_additive[additive.name],
                    mass,
                    additive.tolerance_percent,
                    stock=stock,
                    component=False,
                )
            )
    return tuple(shares)


def _order(material: Material, way: Way) -> tuple[str, ...]:
    """The cup that receives the others is weighed last: it stays on the pan for combining."""
    if way is Way.ONE_CUP:
        return material.weigh_order
    sources = tuple(name for name in material.weigh_order if name != material.pour_into)
    return (*sources, material.pour_into)


def _into(material: Material, component: str) -> tuple[Additive, ...]:
    return tuple(additive for additive in material.additives if additive.into == component)


def _stock(name: str, standing: Standing, lots: tuple[Lot, ...]) -> Mass | None:
    lot = next((lot for lot in lots if lot.component == name), None)
    return None if lot is None else standing.left(lot.number, lot.left)


def _with_steps(plan: CastPlan, ready_check: bool, due: str) -> CastPlan:
    material = plan.material
    items = (*map(t, ALWAYS_READY), *material.ready_items, *plan.mold.ready_items, *((t(RELEASE_ON),) if due else ()))
    ready = [ReadyCheck(items)] if ready_check else []
    never = Moment(0.0, "", datetime.min.replace(tzinfo=UTC), trusted=False)
    blank = Cast(0, plan, never, (), 0, never)  # nothing weighed yet: the rules of the targets read from it
    steps: list[Step] = []
    if plan.way is Way.ONE_CUP:
        steps.append(PlaceCup(MIXING))
        seen = 0
        for share in plan.shares:
            reactive = share.component and seen == 1
            if reactive:
                steps += ready
            seen += share.component
            steps += _weighing(blank, share, reactive)
    else:
        cup = ""
        for share in plan.shares:
            if share.cup != cup:
                cup = share.cup
                steps.append(PlaceCup(cup))
            steps += _weighing(blank, share, False)
        steps += ready
        steps += [_combining(blank, share) for share in plan.shares if share.component and share.cup != cup]
    steps += [Mix(material.times.mix_s), Pour()]
    if plan.mold.closes:
        steps.append(Close())
    if plan.way is Way.TWO_CUPS:
        steps += [WeighEmptied(s.cup) for s in plan.shares if s.component and s.ingredient != material.pour_into]
    steps += [WeighEmptied(MIXING if plan.way is Way.ONE_CUP else material.pour_into, mix=True), Cure()]
    return replace(plan, steps=tuple(steps))


def _weighing(blank: Cast, share: Share, reactive: bool) -> list[Step]:
    scale = _scale(blank.plan)
    rule = rule_words(blank, share, share.planned, scale)
    weigh: Weigh = weigh_step(share, share.cup, share.planned, ZERO, reactive=reactive, rule=rule)
    additive = next((a for a in blank.plan.material.additives if a.name == share.ingredient), None)
    if not share.component and additive is not None and additive.premix_s > 0:
        return [weigh, PreMix(share.ingredient, share.cup, additive.premix_s)]
    return [weigh]


def _combining(blank: Cast, share: Share) -> Combine:
    plan = blank.plan
    target = share.planned - share.stays
    low, high = window_mg(target.mg, share.percent)
    return Combine(share.cup, plan.material.pour_into, target, Mass(low), Mass(high))


def _scale(plan: CastPlan) -> float:
    return plan.total.g / sum(share.share for share in plan.shares)
