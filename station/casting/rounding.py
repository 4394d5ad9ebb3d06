"""Rounding a batch to the steps of a scale without breaking its ratio, and the smallest batch where that works."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from station.casting.batch import Recipe
from station.casting.digits import digits
from station.errors import Refused
from station.texts import number, t

GROWTH = 0.05
"""A batch may grow by this part for the sake of a better ratio."""
TRIES = 400
"""How many steps of one ingredient are tried."""
ADDITIVE_PERCENT = 10.0
"""Allowed error of an additive. Common practice, no source."""
CLOSE = 0.1
"""Within this part of what is allowed a smaller batch counts more than a still better ratio."""


@dataclass(frozen=True, slots=True)
class Rounded:
    """Targets in whole steps of a scale, in g, and the largest errors that this leaves, in %.

    Errors are those of each ingredient's ratio to the first component.
    """

    masses: Mapping[str, float]
    total_g: float
    error_percent: float
    additive_error_percent: float


@dataclass(frozen=True, slots=True)
class _Scaled:
    """The exact masses of a batch, which of them are additives, what each sort may err in %, and the scale's step."""

    exact: Mapping[str, float]
    additives: frozenset[str]
    component_percent: float
    additive_percent: float
    step_g: float

    def led_by(self, lead: str, steps: int) -> Rounded:
        """The batch scaled so that `lead` is so many steps; the others go to their nearest step, one at least."""
        grown = steps * self.step_g / self.exact[lead]
        counts = {name: max(1, round(mass * grown / self.step_g)) for name, mass in self.exact.items()} | {lead: steps}
        first = next(iter(self.exact))
        off = {
            name: abs(count / self.exact[name] / (counts[first] / self.exact[first]) - 1) * 100
            for name, count in counts.items()
        }
        return Rounded(
            {name: round(count * self.step_g, 9) for name, count in counts.items()},
            # Counted in whole steps, so that many of 0.1 g do not drift.
            round(sum(counts.values()) * self.step_g, 9),
            max(error for name, error in off.items() if name not in self.additives),
            max((error for name, error in off.items() if name in self.additives), default=0.0),
        )

    def strain(self, found: Rounded) -> float:
        """The largest error as a part of what is allowed: above 1 it is not."""
        return max(found.error_percent / self.component_percent, found.additive_error_percent / self.additive_percent)

    def near(self, direction: int) -> Iterator[Rounded]:
        """Batches a little larger (direction 1) or smaller (-1), led by every ingredient in turn."""
        for lead, mass in self.exact.items():
            at = mass / self.step_g
            start = math.floor(at) if direction > 0 else math.ceil(at)
            for more in range(min(TRIES, math.ceil(at * GROWTH) + 1) + 1):
                if start + direction * more >= 1:
                    yield self.led_by(lead, start + direction * more)

    def smallest(self, enough: Callable[[Rounded], bool]) -> Rounded:
        """The smallest batch led by its least ingredient that is `enough` and within what is allowed.

        With that one at n steps no other errs by much more than 1/n, so the search ends near 100 ÷ the allowed %.
        """
        lead = min(self.exact, key=self.exact.__getitem__)
        steps = max(1, math.ceil(self.exact[lead] / self.step_g - 1e-9))
        while not (enough(found := self.led_by(lead, steps)) and self.strain(found) <= 1):
            steps += 1
        return found


def rounded(
    recipe: Recipe,
    total_g: float,
    step_g: float,
    tolerance_percent: float,
    *,
    additive_percent: float = ADDITIVE_PERCENT,
    left_g: Mapping[str, float] | None = None,
) -> Rounded:
    """Targets in whole steps of the scale that keep every ratio to the first component within its tolerance.

    The total is not below `total_g`, and at most 5 % above it (or a step of each); with `left_g` it is instead never
    more than what is left of each ingredient. Within a tenth of the tolerance the total nearest to `total_g` is taken,
    else the best ratio. Raises Refused, with the smallest batch that works, when there is none.
    """
    if not 0 < step_g <= 1000:
        raise Refused(
            t("A scale does not read in steps of {step_g} g.", step_g=number(step_g)),
            t("Type its last digit, such as 0.1 g."),
        )
    for percent in (tolerance_percent, additive_percent):
        if not 0.01 <= percent <= 50:
            raise Refused(
                t("An allowed error of {percent} % is none.", percent=number(percent)),
                t("Type 0.01 to 50 %, such as 2 %."),
            )
    exact = recipe.masses(total_g)
    nothing = [name for name, mass in exact.items() if not mass > 0]
    if nothing:
        raise Refused(t("Of {nothing} nothing goes into this mix.", nothing=", ".join(nothing)), t("Leave it out."))
    scaled = _Scaled(exact, frozenset(recipe.additives), tolerance_percent, additive_percent, step_g)
    most = total_g * (1 + GROWTH) + step_g * len(exact)

    def enough(found: Rounded) -> bool:
        if left_g is None:
            return total_g - 1e-9 <= found.total_g
        return all(found.masses[name] <= left + 1e-9 for name, left in left_g.items())

    usable = [
        (scaled.strain(found), abs(found.total_g - total_g), found)
        for found in scaled.near(1 if left_g is None else -1)
        if enough(found) and found.total_g <= most
    ]
    best = min(usable, key=lambda one: (max(one[0], CLOSE), one[1]), default=None)
    if best is None or best[0] > 1:
        works = scaled.smallest(lambda found: left_g is not None or enough(found))
        needs = ", ".join(f"{name} {digits(mass, 9)} g" for name, mass in works.masses.items())
        raise Refused(
            t(
                "Steps of {step_g} g are too coarse for ± {tolerance_percent} % in {total_g} g of mix.",
                step_g=number(step_g),
                tolerance_percent=number(tolerance_percent),
                total_g=digits(total_g),
            ),
            t(
                "The smallest batch that works is {total_g} g ({needs}); or use a finer scale.",
                total_g=digits(works.total_g, 9),
                needs=needs,
            ),
        )
    return best[2]
