"""Batch: targets that follow from what is really in the cups, and what an overshoot makes of the rest."""

from __future__ import annotations

from dataclasses import dataclass, replace

from station.core.mass import ZERO, Mass
from station.core.plan import CastPlan, Share
from station.core.standing import Cast
from station.core.steps import Combine, PlaceCup, Step, Weigh
from station.metrology.tolerance import window_mg
from station.texts import number, t


@dataclass(frozen=True, slots=True)
class Rescue:
    """How the cast goes on after an overshoot: `steps` with the overshot one re-based, and the new `total`."""

    steps: tuple[Step, ...]
    total: Mass
    words: str


def share_of(plan: CastPlan, ingredient: str) -> Share:
    """The share of this ingredient in the plan."""
    return next(share for share in plan.shares if share.ingredient == ingredient)


def reaches_mix(share: Share, weighed: Mass) -> Mass:
    """What of a weighed mass ends in the mix: all but what clings to a poured-out cup."""
    return weighed - share.stays.times(weighed.mg / share.planned.mg)


def to_weigh(share: Share, wanted: Mass) -> Mass:
    """Mass to weigh so that `wanted` ends in the mix; the allowance grows with the mass."""
    return wanted.times(share.planned.mg / (share.planned.mg - share.stays.mg))


def scale_g(cast: Cast) -> float:
    """Mass of all components in grams that the accepted ones call for; the planned one while there are none.

    The component that is most over sets it: what is in the cup cannot be taken back, the others can follow.
    """
    taken = [(share, reaches_mix(share, cast.weighed(share.ingredient))) for share in _components(cast.plan)]
    done = [(share.share, mass.g) for share, mass in taken if mass > ZERO]
    if not done:
        first = _components(cast.plan)[0]
        return reaches_mix(first, first.planned).g / first.share
    return max(mass / share for share, mass in done)


def _components(plan: CastPlan) -> list[Share]:
    return [share for share in plan.shares if share.component]


def total_at(plan: CastPlan, scale: float) -> Mass:
    """Mass of the whole mix, additives included, for `scale` grams of components."""
    return Mass.nearest(scale * sum(share.share for share in plan.shares))


def weigh_step(share: Share, cup: str, wanted: Mass, already: Mass, *, reactive: bool, rule: str) -> Weigh:
    """The step that brings an ingredient from `already` to `wanted` (both as weighed), within its tolerance."""
    low, high = window_mg(wanted.mg, share.percent)
    return Weigh(
        share.ingredient, cup, wanted - already, Mass(low) - already, Mass(high) - already, reactive, already, rule
    )


def retargeted(cast: Cast) -> tuple[Step, ...]:
    """The steps with every coming target following from the masses accepted so far."""
    scale = scale_g(cast)
    ahead = (_follow(cast, step, scale) for step in cast.steps[cast.position :])
    return (*cast.steps[: cast.position], *ahead)


def _follow(cast: Cast, step: Step, scale: float) -> Step:
    match step:
        case Weigh(already=already) if already > ZERO:
            return step  # a top-up was fixed by the overshoot that made it needful
        case Weigh(ingredient=ingredient, cup=cup, already=already, reactive=reactive):
            share = share_of(cast.plan, ingredient)
            wanted = to_weigh(share, Mass.nearest(scale * share.share))
            rule = rule_words(cast, share, wanted, scale)
            return weigh_step(share, cup, wanted, already, reactive=reactive, rule=rule)
        case Combine(source=source):
            share = share_of(cast.plan, source)
            target = Mass.nearest(_partners_scale(cast, source) * share.share)
            low, high = window_mg(target.mg, share.percent)
            return replace(
                step, target=target, low=Mass(low), high=Mass(high), rule=_combine_rule(cast, source, target)
            )
        case _:
            return step


def _partners_scale(cast: Cast, source: str) -> float:
    """What must be transferred follows from the components that are not poured over."""
    others = [share for share in _components(cast.plan) if share.ingredient != source]
    done = [(share.share, reaches_mix(share, cast.weighed(share.ingredient)).g) for share in others]
    weight = sum(share for share, mass in done if mass > 0)
    return sum(mass for _, mass in done) / weight if weight else scale_g(cast)


def rule_words(cast: Cast, share: Share, wanted: Mass, scale: float) -> str:
    """A target with its inputs and rule, for the person who wants to check it."""
    step = cast.plan.scale.readability
    done = [
        f"{reaches_mix(s, cast.weighed(s.ingredient)).text(step)} {s.ingredient}"
        for s in _components(cast.plan)
        if cast.weighed(s.ingredient) > ZERO
    ]
    basis = t(" ({basis} on the sheet)", basis=t(cast.plan.material.basis.value))
    source = " + ".join(done) or t("{scale} of components", scale=Mass.nearest(scale).text(step))
    per = sum(s.share for s in _components(cast.plan) if cast.weighed(s.ingredient) > ZERO) or 1.0
    rule = t(
        "{scale} = {source} × {share} by weight{basis}",
        scale=Mass.nearest(scale * share.share).text(step),
        source=source,
        share=number(share.share / per, ".4g"),
        basis=basis,
    )
    if share.stays > ZERO:
        rule += t("; {wanted} with what clings to the cup", wanted=wanted.text(step))
    return rule


def _combine_rule(cast: Cast, source: str, target: Mass) -> str:
    step = cast.plan.scale.readability
    weighed = cast.weighed(source).text(step)
    return t(
        "{target} of the {weighed} {source} must arrive; the rest may cling to its cup",
        target=target.text(step),
        weighed=weighed,
        source=source,
    )


def rescued(cast: Cast, net: Mass, left_for_pouring_s: float | None) -> Rescue | str:
    """What to do about `net`, at rest above the window of the present weighing: a Rescue, or why the batch is lost.

    The overshot ingredient fixes the new batch; what is already in is topped up, what is to come gets new
    targets. Limits: each cup's capacity, the scale's maximum, stock, and `left_for_pouring_s` seconds of
    pot life before mixing must stop (None: the pot life does not run yet).
    """
    step = cast.step
    assert isinstance(step, Weigh)
    plan, share = cast.plan, share_of(cast.plan, step.ingredient)
    weighed = step.already + net
    scale = reaches_mix(share, weighed).g / share.share
    wanted = {s.ingredient: to_weigh(s, Mass.nearest(scale * s.share)) for s in plan.shares}
    wanted[step.ingredient] = weighed
    top_ups = [s for s in plan.shares if cast.weighed(s.ingredient) > ZERO and _short(cast, s, wanted)]
    top_ups = [s for s in top_ups if s.ingredient != step.ingredient]
    reason = _beyond_limits(cast, wanted) or _too_late(cast, len(top_ups), left_for_pouring_s)
    if reason:
        return reason
    inside = t("{weighed} are in the cup", weighed=weighed.text(plan.scale.readability))
    based = weigh_step(share, step.cup, weighed, step.already, reactive=step.reactive, rule=inside)
    extra = _top_up_steps(cast, top_ups, wanted)
    ahead = tuple(_follow(cast, later, scale) for later in cast.steps[cast.position + 1 :])
    steps = (*cast.steps[: cast.position], based, *extra, *ahead)
    total = total_at(plan, scale)
    d = plan.scale.readability
    words = t(
        "{net} too much {ingredient}: the batch becomes {total}.",
        net=(net - step.target).text(d),
        ingredient=step.ingredient,
        total=total.text(d),
    )
    for s in top_ups:
        words += t(
            " Add {wanted} {ingredient}.",
            wanted=(wanted[s.ingredient] - cast.weighed(s.ingredient)).text(d),
            ingredient=s.ingredient,
        )
    return Rescue(steps, total, words)


def _short(cast: Cast, share: Share, wanted: dict[str, Mass]) -> bool:
    low, _ = window_mg(wanted[share.ingredient].mg, share.percent)
    return cast.weighed(share.ingredient).mg < low


def _top_up_steps(cast: Cast, top_ups: list[Share], wanted: dict[str, Mass]) -> tuple[Step, ...]:
    step = cast.step
    assert isinstance(step, Weigh)
    extra: list[Step] = []
    for share in top_ups:
        weigh = weigh_step(
            share,
            share.cup,
            wanted[share.ingredient],
            cast.weighed(share.ingredient),
            reactive=False,
            rule=t("top-up: {wanted} in all", wanted=wanted[share.ingredient].text(cast.plan.scale.readability)),
        )
        if share.cup == step.cup:
            extra.append(weigh)
        else:
            extra += [PlaceCup(share.cup, again=True), weigh]
    if any(isinstance(s, PlaceCup) for s in extra) and not _only_combining_ahead(cast):
        extra.append(PlaceCup(step.cup, again=True))
    return tuple(extra)


def _only_combining_ahead(cast: Cast) -> bool:
    """Whether no weighing into the present cup follows: combining recognises its cup by itself."""
    return not any(isinstance(step, Weigh) for step in cast.steps[cast.position + 1 :])


def _beyond_limits(cast: Cast, wanted: dict[str, Mass]) -> str:
    plan, d = cast.plan, cast.plan.scale.readability
    total = sum((mass for mass in wanted.values()), start=ZERO)
    if total > plan.cup.capacity:
        return t(
            "To keep the ratio the batch would grow to {total}; the cup holds {capacity}.",
            total=total.text(d),
            capacity=plan.cup.capacity.text(d),
        )
    for share in plan.shares:
        need = wanted[share.ingredient]
        if share.stock is not None and need > share.stock:
            return t(
                "To keep the ratio {need} of {ingredient} are needed; {have} are left of its lot.",
                need=need.text(d),
                ingredient=share.ingredient,
                have=share.stock.text(d),
            )
    heaviest = max((cup.tare for cup in cast.cups), default=ZERO) + total
    if heaviest > plan.scale.maximum:
        return t(
            "Cup and batch would weigh {heaviest}; the scale ends at {maximum}.",
            heaviest=heaviest.text(d),
            maximum=plan.scale.maximum.text(d),
        )
    return ""


def _too_late(cast: Cast, top_ups: int, left_s: float | None) -> str:
    if left_s is None:
        return ""
    mixing = cast.plan.material.times.mix_s
    need = mixing + top_ups * cast.plan.weighing_s
    if need <= left_s:
        return ""
    return t(
        "Topping up and mixing take about {need} s; only {left_s} s are left until the mix must be poured.",
        need=f"{need:.0f}",
        left_s=f"{max(0.0, left_s):.0f}",
    )
