"""First contact: when did the reactive component begin to land?

A rise above the known level that stays and grows is a pour; one that falls back was a bump or a hand.
The moment is back-dated to the first reading that rose.
"""

from __future__ import annotations

from dataclasses import dataclass

from station.core.mass import Mass
from station.core.material import ScaleCard
from station.core.moment import Moment

FINE_TRIGGER = Mass(150)


@dataclass(frozen=True, slots=True)
class Rise:
    """A rise under suspicion: when it began and how high it was at first, in mg above the level."""

    began: Moment
    first_mg: int


def trigger_mg(card: ScaleCard) -> int:
    """Three steps, and at least 0.15 g on a fine scale."""
    return max(3 * card.readability.mg, FINE_TRIGGER.mg)


def hold_s(card: ScaleCard) -> float:
    """How long a rise must last: longer than a push shows in the filter."""
    return 2 * card.lag_s + 0.4


def watched(rise: Rise | None, net: Mass, now: Moment, card: ScaleCard) -> Rise | None:
    """The rise after one more reading `net` above the level; None when there is none (any more)."""
    if net.mg < trigger_mg(card):
        return None
    return rise or Rise(now, net.mg)


def confirmed(rise: Rise, net: Mass, now: Moment, card: ScaleCard) -> bool:
    """Whether the rise is a pour: it has lasted and has grown since it began."""
    lasted = now.boot_s - rise.began.boot_s >= hold_s(card)
    return lasted and net.mg >= rise.first_mg + 2 * card.readability.mg
