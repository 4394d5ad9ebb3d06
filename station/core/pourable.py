"""Pourable: how near a pour comes at all, and what is said where a plan or a weighing wants it nearer.

Nobody pours a part of a drop, no display shows less than its step, and even the thinnest stream of a hand runs on
after the stop for a time that varies. Together they scatter by s; a window of ± 2.5 s was kept in 91 to 98 of 100
simulated pours of 15 and 20 g (tests/benchmarks/pouring, `pure`).
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from station.core.guidance.learned import Learned
from station.core.guidance.runon import stranger
from station.core.guidance.stopping import floor_var
from station.core.guidance.task import Task
from station.core.known_pours import card_source, known
from station.core.mass import ZERO, Mass
from station.core.material import ScaleCard
from station.core.plan import Share
from station.core.pouring_events import PourLearned
from station.core.workplace import Workplace
from station.texts import N_, number, t

SURE = 2.5
"""So many times the scatter a tolerance must be."""

DROP_G = 0.12
"""The heaviest drop, of thick liquids; thin ones drip 0.05 g (common practice, no source). A window holds one, or drops
step over it."""

THIN_G_S, THIN_AT_G, THIN_POWER = 0.6, 60.0, 0.35
"""The thinnest steady stream of an unknown hand: of so much for a job of 60 g, less from a smaller cup (assumed)."""

STEADY_AFTER = 3
"""From so many pours of an ingredient on its own hand and stream count."""

WHOLE = Mass(1000)
"""A batch is proposed in whole grams."""

PIPETTE = N_("Give the last of it with a pipette or syringe.")


def finest_g(target_g: float, card: ScaleCard, learned: Learned | None = None) -> float:
    """The smallest tolerance in grams that pouring `target_g` keeps to, by what is learned or else by what is usual."""
    task = Task(target_g, target_g, target_g, card.readability.g, card.lag_s)
    if learned is not None and learned.pours >= STEADY_AFTER and learned.trickle_g_s is not None:
        hand_g = learned.trickle_g_s * learned.runon.scatter_s
    else:
        hand_g = THIN_G_S * (target_g / THIN_AT_G) ** THIN_POWER * stranger(card.lag_s).scatter_s
    return max(DROP_G / 2, SURE * math.sqrt(floor_var(task) + hand_g**2))


def too_fine(target: Mass, low: Mass, high: Mass, card: ScaleCard, learned: Learned | None) -> bool:
    """Whether the window is narrower than a pour can be relied on to hit."""
    return (high - low).g / 2 < finest_g(target.g, card, learned)


@dataclass(frozen=True, slots=True)
class Dose:
    """What is to be poured of one ingredient within ± `percent` %, and what is known of its pours."""

    ingredient: str
    planned: Mass
    percent: float
    learned: Learned | None = None

    @property
    def tolerance_g(self) -> float:
        """Half of its window."""
        return self.planned.g * self.percent / 100


def small_doses(doses: Iterable[Dose], total_g: float, card: ScaleCard, most: Mass | None = None) -> tuple[str, ...]:
    """At most one warning: what of a batch is finer than a pour, and from which batch on (up to `most`) it is not."""
    d = card.readability
    names, factor = [], 1.0
    for dose in doses:
        finest = finest_g(dose.planned.g, card, dose.learned)
        if dose.planned <= ZERO or dose.tolerance_g >= finest:
            continue
        names.append(
            t(
                "{planned} of {ingredient} (± {tolerance} g, a pour keeps to about ± {finest} g)",
                planned=dose.planned.text(d),
                ingredient=dose.ingredient,
                tolerance=number(dose.tolerance_g, ".2g"),
                finest=number(finest, ".2g"),
            )
        )
        factor = max(factor, _factor(dose, card))
    if not names:
        return ()
    batch = Mass.nearest(math.ceil(total_g * factor))
    said = t("Finer than a pour can hit: {parts}.", parts="; ".join(names))
    if most is not None and batch > most:
        return (f"{said} {t(PIPETTE)}",)
    larger = t("Mix {batch} or more, or give the last of it with a pipette or syringe.", batch=batch.text(WHOLE))
    return (f"{said} {larger}",)


def small_amounts(
    material: str, total: Mass, shares: tuple[Share, ...], place: Workplace, pours: tuple[PourLearned, ...]
) -> tuple[str, ...]:
    """The same for a plan at this bench, by what its own pours have taught."""
    card = place.scale
    most = min(place.cup.capacity, card.maximum - place.cup.empty - card.readability)
    doses = (Dose(s.ingredient, s.planned, s.percent, _learned(material, s, card, pours)) for s in shares)
    return small_doses(doses, total.g, card, most)


def _learned(material: str, share: Share, card: ScaleCard, pours: tuple[PourLearned, ...]) -> Learned:
    target_g = share.planned.g
    task = Task(target_g, target_g, target_g, card.readability.g, card.lag_s)
    return known(pours, card_source(material, share.ingredient, card), task)


def _factor(dose: Dose, card: ScaleCard) -> float:
    """How much larger the batch must be: the tolerance grows with it, what a pour keeps to by far less."""
    factor = 1.0
    for _ in range(40):
        factor = finest_g(dose.planned.g * factor, card, dose.learned) / dose.tolerance_g
    return factor
