"""What plans use already without being asked: what stayed in emptied cups, with how sure that is."""

from __future__ import annotations

from collections.abc import Sequence

from station.casting.cling import REMEMBERED
from station.casting.loss import LAST, SAME_SIZE
from station.core.material import Material
from station.core.standing import Standing
from station.insight.spread import spread
from station.texts import number, t, tn


def known_words(standing: Standing, material: Material, capacity_g: float) -> tuple[str, ...]:
    """The loss in cups of the size in use, and what clings for each component, a sentence each."""
    losses = [one.percent for one in standing.losses if abs(one.capacity_g / capacity_g - 1) <= SAME_SIZE]
    said = []
    if losses:
        said.append(
            t(
                "Loss in cups of {size} g: {mean}. Every plan uses it.",
                size=number(capacity_g),
                mean=_mean_words(losses[-LAST:]),
            )
        )
    for component in material.components:
        if seen := standing.cling_percents(material.key, component.name)[-REMEMBERED:]:
            said.append(
                t(
                    "Cling of {component}: {mean}. Every plan of two cups uses it.",
                    component=component.name,
                    mean=_mean_words(seen),
                )
            )
    return tuple(said)


def _mean_words(percents: Sequence[float]) -> str:
    of = tn("of {n} emptied cup", "of the last {n} emptied cups", len(percents))
    found = spread(percents)
    if found is None:
        return t("{percent} % {of}", percent=number(percents[0], ".2f"), of=of)
    return t(
        "{percent} % {of}, the mean 19 times in 20 between {low} and {high} %",
        percent=number(found.mean, ".2f"),
        of=of,
        low=number(max(0.0, found.mean_within.low), ".2f"),
        high=number(found.mean_within.high, ".2f"),
    )
