"""What was looked at before a cast may begin, and what came of it, as a list to read."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from station.core.plan import CastPlan
from station.core.plan_notes import EXAMPLE, lots_missing
from station.core.planning import Impossible
from station.texts import N_, t


class Finding(Enum):
    """What a check found. The value is its name in words."""

    OK = N_("ok")
    LOOK = N_("look")
    REFUSED = N_("refused")


@dataclass(frozen=True, slots=True)
class Check:
    """One thing that was looked at; `words` is a sentence or two."""

    finding: Finding
    words: str


def checks_of(plan: CastPlan) -> tuple[Check, ...]:
    """The checks of a plan that can be cast: what needs a look first, then what is in order."""
    d = plan.scale.readability
    missing = lots_missing(plan.material, plan.lots)
    look = [Check(Finding.LOOK, said) for said in (*plan.warnings, *filter(None, (missing,)))]
    if plan.material.example:
        look.append(Check(Finding.LOOK, t(EXAMPLE)))
    kept = plan.scale.maximum - plan.total - plan.cup.empty
    in_order = [
        t(
            "The {cup} holds {capacity}; the mix is {total}.",
            cup=plan.cup.title,
            capacity=plan.cup.capacity.text(d),
            total=plan.total.text(d),
        ),
        t(
            "The scale can hold the tolerance of every part, and {kept} are left to the end of its range.",
            kept=kept.text(d),
        ),
        *_stock(plan),
        plan.way_reason,
    ]
    return (*look, *(Check(Finding.OK, said) for said in in_order))


def _stock(plan: CastPlan) -> list[str]:
    d = plan.scale.readability
    left = [f"{s.ingredient} {(s.stock - s.planned).text(d)}" for s in plan.shares if s.stock is not None]
    return [t("The lots have enough; afterwards they still hold {left}.", left=", ".join(left))] if left else []


def checks_failed(why: Impossible) -> tuple[Check, ...]:
    """The checks of a batch that cannot be cast."""
    return tuple(Check(Finding.REFUSED, said) for said in why.problems)


def notes_besides(plan: CastPlan, checks: tuple[Check, ...]) -> tuple[str, ...]:
    """The notes of a plan that no check has said already."""
    said = {check.words for check in checks}
    return tuple(note for note in plan.notes if note not in said)
