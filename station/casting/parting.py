"""A mold in two pieces: how much silicone lies below the parting plane, and how much above."""

from __future__ import annotations

import math
from dataclasses import dataclass

from station.casting.moldbox import ROUNDING, Plan
from station.errors import Refused
from station.texts import number, t


@dataclass(frozen=True, slots=True)
class Halves:
    """Silicone of a two-piece mold, cm³ without overfill, and in words what was taken off for the positive."""

    below: float
    above: float
    how: str


def halves(plan: Plan, parting: float, positive_below: float | None = None) -> Halves:
    """The silicone below and above a parting plane `parting` mm over the positive's bottom.

    `positive_below` is the positive's volume below the plane in cm³; without it the positive is taken as if it had
    the same section at every height. Raises Refused for a plane outside the positive or a volume it cannot have.
    """
    long, wide, high = plan.extents
    if not 0 < parting < high:
        raise Refused(
            t(
                "A parting line {parting} mm above the bottom does not cut a positive {high} mm high.",
                parting=number(parting),
                high=number(high),
            ),
            t("Give it between the bottom and the top of the positive."),
        )
    below, how = _positive_below(plan, parting / high, positive_below)
    foot, head = (long * wide * part / 1000 for part in (parting, high - parting))
    over = (plan.positive or 0.0) - below
    if not (math.isfinite(below) and 0 <= below <= foot * (1 + ROUNDING) and -ROUNDING <= over <= head + ROUNDING):
        raise Refused(
            t("{below} cm³ of the positive cannot lie below the parting line.", below=number(below)),
            t("Check the volume and the height."),
        )
    lower = plan.inner[0] * plan.inner[1] * (plan.walls.below + parting) / 1000 - below
    return Halves(lower, plan.silicone - lower, how)


def _positive_below(plan: Plan, part: float, given: float | None) -> tuple[float, str]:
    if plan.positive is None:
        if given is not None:
            raise Refused(
                t("How much of the positive lies below the parting line is given, but not its whole volume."),
                t("Give both, or neither."),
            )
        return 0.0, t("nothing taken off, for the positive's volume is not known")
    if given is not None:
        return given, t("less {given} cm³ of the positive as given", given=number(given))
    below = plan.positive * part
    return below, t("less {below} cm³ of the positive, shared out by height: an assumption", below=number(below, ".4g"))
