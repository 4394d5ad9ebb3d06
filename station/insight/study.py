"""Study: all that is worth saying of one figure over some casts, in the order of the casts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from station.insight.capability import Capability, Tolerance, capability
from station.insight.charted import FIGURES, Charted, comparable, figure_of
from station.insight.facts import CastFacts
from station.insight.individuals import Individuals, individuals
from station.insight.smoothed import Smoothed, smoothed
from station.insight.spread import Spread, spread


@dataclass(frozen=True, slots=True)
class Study:
    """One figure. `casts` are those that have it, the oldest first, `values` theirs; `without` have none.

    Not `comparable`: the casts differ too much to be charted together, and everything else is None.
    """

    charted: Charted
    comparable: bool
    casts: tuple[CastFacts, ...]
    values: tuple[float, ...]
    without: int
    limits: Tolerance
    spread: Spread | None = None
    chart: Individuals | None = None
    smooth: Smoothed | None = None
    capability: Capability | None = None

    @property
    def needs(self) -> str:
        """What must be chosen before these casts can be compared, marked for translation."""
        return FIGURES[self.charted].alike.value


def study(facts: Sequence[CastFacts], charted: Charted, limits: Tolerance) -> Study:
    """The study of these casts, in whatever order they come."""
    known = [(cast, value) for cast in facts if (value := figure_of(cast, charted)) is not None]
    known.sort(key=lambda one: one[0].number)
    casts, values = tuple(cast for cast, _ in known), tuple(value for _, value in known)
    without = len(facts) - len(known)
    if not comparable(casts, charted):
        return Study(charted, False, casts, values, without, limits)
    chart = individuals(values)
    smooth = None if chart is None else smoothed(values, chart.limits.middle, chart.limits.sigma)
    return Study(
        charted=charted,
        comparable=True,
        casts=casts,
        values=values,
        without=without,
        limits=limits,
        spread=spread(values),
        chart=chart,
        smooth=smooth,
        capability=capability(values, limits),
    )
