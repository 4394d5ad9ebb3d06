"""Amounts of a batch: per ingredient what was weighed against what was aimed at, and the ratio that came of it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from station.casting.ratio import ratio_error_percent
from station.core import events as ev
from station.core.batch import reaches_mix
from station.core.mass import ZERO, Mass
from station.core.moment import Moment
from station.core.plan import CastPlan, Share
from station.records import IngredientRecord, RatioRecord
from station.texts import N_, Phrase


@dataclass(frozen=True, slots=True)
class Pour:
    """One accepted weighing; `reopened` when more arrived afterwards and it no longer counts."""

    taken: ev.Accepted
    at: Moment
    reopened: bool = False


@dataclass(frozen=True, slots=True)
class Weighed:
    """All that the scale saw of one cast: pours, masses gained by combining, residues in emptied cups."""

    pours: tuple[Pour, ...]
    gained: dict[str, Mass]
    residues: dict[tuple[str, str], Mass]

    @classmethod
    def of(cls, entries: Sequence[ev.Entry]) -> Weighed:
        """Gathered from the cast's entries."""
        pours: list[Pour] = []
        gained: dict[str, Mass] = {}
        residues: dict[tuple[str, str], Mass] = {}
        for entry in entries:
            match entry.event:
                case ev.Accepted():
                    pours.append(Pour(entry.event, entry.at))
                case ev.Reopened(step=step):
                    last = max((i for i, one in enumerate(pours) if one.taken.step == step), default=None)
                    if last is not None:
                        pours[last] = replace(pours[last], reopened=True)
                case ev.Combined(source=source, gained=mass) if mass is not None:
                    gained[source] = gained.get(source, ZERO) + mass
                case ev.EmptiedCupWeighed(cup=cup, ingredient=ingredient, residue=residue):
                    residues[cup, ingredient] = residue
                case _:
                    pass
        return cls(tuple(pours), gained, residues)

    def standing(self, ingredient: str) -> tuple[ev.Accepted, ...]:
        """The weighings of an ingredient that count."""
        return tuple(one.taken for one in self.pours if one.taken.ingredient == ingredient and not one.reopened)

    def held(self, cup: str) -> Mass:
        """All that was weighed into a cup."""
        return _sum(one.taken.net for one in self.pours if one.taken.cup == cup and not one.reopened)


def ingredients(plan: CastPlan, weighed: Weighed) -> tuple[IngredientRecord, ...]:
    """Each ingredient of the plan with what was really weighed of it."""
    return tuple(_ingredient(plan, share, weighed) for share in plan.shares)


def _ingredient(plan: CastPlan, share: Share, weighed: Weighed) -> IngredientRecord:
    taken = weighed.standing(share.ingredient)
    lot = next((lot.number for lot in plan.lots if lot.component == share.ingredient), "")
    nothing = IngredientRecord(
        ingredient=share.ingredient,
        cup=share.cup,
        component=share.component,
        lot=lot,
        planned=share.planned,
        actual=None,
        target=None,
        low=None,
        high=None,
        error_percent=None,
        in_mix=None,
        in_mix_by="",
    )
    if not taken:
        return nothing
    earlier, last = _sum(one.net for one in taken[:-1]), taken[-1]
    actual, target = earlier + last.net, earlier + last.target
    in_mix, known_by = _in_mix(share, actual, weighed)
    return replace(
        nothing,
        actual=actual,
        target=target,
        low=earlier + last.low,
        high=earlier + last.high,
        error_percent=(actual.mg - target.mg) / target.mg * 100 if target.mg > 0 else None,
        in_mix=in_mix,
        in_mix_by=known_by,
    )


def _in_mix(share: Share, actual: Mass, weighed: Weighed) -> tuple[Mass, str]:
    """What reached the mix. The mass gained while combining is split as the cup's content was weighed."""
    held = weighed.held(share.cup)
    gained = weighed.gained.get(share.cup)
    if gained is not None and held > ZERO:
        return gained.times(actual.mg / held.mg), Phrase(N_("mass gained while combining"))
    residue = next((mass for (cup, _), mass in weighed.residues.items() if cup == share.cup), None)
    if residue is not None and held > ZERO:
        return actual - residue.times(actual.mg / held.mg), Phrase(N_("weighed less what stayed in the emptied cup"))
    if share.stays > ZERO and share.planned > ZERO:
        return reaches_mix(share, actual), Phrase(N_("weighed less the allowance for what clings to the cup"))
    return actual, Phrase(N_("weighed"))


def total(amounts: Sequence[IngredientRecord]) -> Mass:
    """Mass of the mix as far as it is weighed."""
    return _sum(one.in_mix for one in amounts if one.in_mix is not None)


def ratio(plan: CastPlan, amounts: Sequence[IngredientRecord]) -> tuple[RatioRecord, ...]:
    """Parts by weight per 100 of the sheet's first component, from the plan's shares and from what was mixed.

    error % = (actual / actual of the first) / (share / share of the first) x 100 - 100.
    """
    order = [part.name for part in plan.material.components]
    shares = {share.ingredient: share.share for share in plan.shares if share.component and share.share > 0}
    names = [name for name in order if name in shares]
    if not names:
        return ()
    mixed = {one.ingredient: one.in_mix.mg for one in amounts if one.in_mix is not None and one.in_mix > ZERO}
    first = names[0]
    found: list[RatioRecord] = []
    for name in names:
        sheet = 100 * shares[name] / shares[first]
        if name in mixed and first in mixed:
            error = ratio_error_percent(mixed[name], mixed[first], shares[name], shares[first])
            found.append(RatioRecord(name, sheet, 100 * mixed[name] / mixed[first], error))
        else:
            found.append(RatioRecord(name, sheet, None, None))
    return tuple(found)


def _sum(masses: Iterable[Mass]) -> Mass:
    return sum(masses, start=ZERO)
