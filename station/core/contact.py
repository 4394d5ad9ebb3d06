"""First contact: when did the reactive component begin to land?

A rise above the known level that goes on growing, or has come to rest, is a pour; one that falls back was a bump or a
hand. It is dated by a straight line through its first readings, down to the level, less what the filter and the hand
that opens smear over it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import timedelta

from station.core.mass import Mass
from station.core.material import ScaleCard
from station.core.moment import Moment
from station.core.rest import Window, at_rest, flicker_mg

FINE_TRIGGER = Mass(150)

DATING_S = 0.5
"""So much of the rise the line is laid through, and never fewer than three readings."""

LEAST_READINGS = 3

OPENING_S, LAG_PART = 0.1, 0.33
"""By how much such a line begins late: a stream that grows, and the part of the lag that does not only shift it
(chosen from the measured errors of simulated pours; early rather than late, since the pot life runs from here)."""

FARTHEST_S = 1.5
"""A line may date a rise so much before its first reading, beside the lag: a dribble of a few d says little."""

PUSH_S = 0.2
"""A hand that leans has laid its weight on the cup by then."""

LOOKS_BACK_S = 0.6
GROWS = 0.15
"""A pour has grown by this part of what has come within that time. A hand that leans has not, and neither has its
filter: when a rise has lasted for the hold, that time begins when the push is over and twice the filter's lag, too."""

LEANS_S = 2.5
"""Nobody leans on a cup for longer, beside what the filter adds: what still grows then is a pour, however slow."""


@dataclass(frozen=True, slots=True)
class Rise:
    """A rise under suspicion: its first reading, how high that was, and the first readings (s, mg above the level)."""

    began: Moment
    first_mg: int
    early: tuple[tuple[float, int], ...] = ()


def trigger_mg(card: ScaleCard) -> int:
    """Three steps, and at least 0.15 g on a fine scale."""
    return max(3 * card.readability.mg, FINE_TRIGGER.mg)


def hold_s(card: ScaleCard) -> float:
    """How long a rise must last: a push, what a filter needs for it, and then as long as is looked back."""
    return PUSH_S + 2 * card.lag_s + LOOKS_BACK_S


def watched(rise: Rise | None, net: Mass, now: Moment, card: ScaleCard) -> Rise | None:
    """The rise after one more reading `net` above the level; None when there is none (any more)."""
    if net.mg < trigger_mg(card):
        return None
    if rise is None:
        return Rise(now, net.mg, ((now.boot_s, net.mg),))
    if len(rise.early) >= LEAST_READINGS and now.boot_s - rise.began.boot_s > DATING_S:
        return rise
    return replace(rise, early=(*rise.early, (now.boot_s, net.mg)))


def confirmed(rise: Rise, net: Mass, now: Moment, window: Window, card: ScaleCard) -> bool:
    """Whether the rise is a pour: it has lasted, stands as high as ever, and has grown until now or come to rest."""
    lasted = now.boot_s - rise.began.boot_s
    if lasted < hold_s(card) or net.mg < rise.first_mg + 2 * card.readability.mg:
        return False
    since = [point for point in window if point.at_s >= rise.began.boot_s]
    if not since or since[-1].mg < max(point.mg for point in since) - flicker_mg(card):
        return False
    if at_rest(window, card) is not None:
        return True
    before = [point.mg for point in since if point.at_s <= now.boot_s - LOOKS_BACK_S]
    least = flicker_mg(card) if lasted >= LEANS_S + 2 * card.lag_s else max(flicker_mg(card), GROWS * net.mg)
    return bool(before) and since[-1].mg - before[-1] >= least


def landed(rise: Rise, card: ScaleCard) -> Moment:
    """When the first of it landed, from the line through its first readings."""
    start = rise.began.boot_s
    back = min(_line_back_s(rise), FARTHEST_S) + OPENING_S + LAG_PART * card.lag_s
    return replace(rise.began, boot_s=max(0.0, start - back), wall=rise.began.wall - timedelta(seconds=back))


def _line_back_s(rise: Rise) -> float:
    """How long before the first reading a least-squares line through the first ones meets the level; else 0."""
    points = rise.early
    if len(points) < LEAST_READINGS:
        return 0.0
    mean_s = sum(at_s for at_s, _ in points) / len(points)
    mean_mg = sum(mg for _, mg in points) / len(points)
    spread = sum((at_s - mean_s) ** 2 for at_s, _ in points)
    slope = sum((at_s - mean_s) * (mg - mean_mg) for at_s, mg in points) / spread if spread > 0 else 0.0
    if slope <= 0:
        return 0.0
    return max(0.0, rise.began.boot_s - (mean_s - mean_mg / slope))
