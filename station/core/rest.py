"""Rest and flow: what a short window of readings says about the pan.

A scale's own stable flag may veto rest but never vouch for it: on slow scales it says "stable" while the
filter still creeps. Rest is a window long enough for the filter in which nothing moved by more than a step.
"""

from __future__ import annotations

from dataclasses import dataclass

from station.core.mass import Mass
from station.core.material import ScaleCard
from station.core.messages import Stability

KEPT_S = 4.0
KEPT_POINTS = 400
BREAK_S = 1.5
"""A silence longer than this starts the window afresh: nobody knows what happened meanwhile."""

LEAST_READINGS = 3
FINE_D = Mass(10)
"""Scales that show 0.01 g or finer flicker by more than one step at rest."""

DROP = Mass(150)
"""More than the largest single drop (drops of 0.05 to 0.12 g: from memory)."""

DROPS_S = 2.0
"""After a pour single drops fall about so far apart; chosen from verdicts on simulated pours (DEVELOPERS.md, Rest)."""

LONGEST_S = 6.0
"""So long after the last rise nobody waits for drops any more: a scale may flicker without end."""


@dataclass(frozen=True, slots=True)
class Point:
    """One reading: boot-time seconds, gross in mg, and whether the frame itself said that it moves."""

    at_s: float
    mg: int
    moving: bool


Window = tuple[Point, ...]


def heard(window: Window, at_s: float, gross: Mass, stability: Stability) -> Window:
    """The window with one more reading, older ones dropped."""
    if window and not 0 <= at_s - window[-1].at_s <= BREAK_S:
        window = ()
    window = (*window, Point(at_s, gross.mg, stability is Stability.MOVING))
    oldest = at_s - KEPT_S
    keep = next((i for i, point in enumerate(window) if point.at_s >= oldest), 0)
    return window[keep:][-KEPT_POINTS:]


def settle_s(card: ScaleCard) -> float:
    """How long the pan must be quiet: max(0.8 s, 2 x lag); a moving-average filter hides a press shorter than that."""
    return max(0.8, 2 * card.lag_s)


def flicker_mg(card: ScaleCard) -> int:
    """How far readings at rest may lie apart."""
    return card.readability.mg * (3 if card.readability <= FINE_D else 1)


def last(window: Window, seconds: float) -> Window | None:
    """The readings of the last `seconds`; None while the window is shorter than that or too thin."""
    if not window or window[-1].at_s - window[0].at_s < seconds - 1e-9:
        return None
    since = window[-1].at_s - seconds - 1e-9
    recent = tuple(point for point in window if point.at_s >= since)
    # A slow scale sends few lines: take as many older ones as are needed to be sure.
    return recent if len(recent) >= LEAST_READINGS else window[-LEAST_READINGS:]


def at_rest(window: Window, card: ScaleCard, seconds: float | None = None) -> Mass | None:
    """The load at rest, or None while it moves or while too little is known."""
    return quiet(window, settle_s(card) if seconds is None else seconds, flicker_mg(card))


def quiet(window: Window, seconds: float, within_mg: int) -> Mass | None:
    """The middle load of the last `seconds`, None unless all of them lie within so much and none says that it moves."""
    recent = last(window, seconds)
    if recent is None or len(recent) < LEAST_READINGS or any(point.moving for point in recent):
        return None
    values = sorted(point.mg for point in recent)
    if values[-1] - values[0] > within_mg:
        return None
    return Mass(values[len(values) // 2])


def a_drop_decides(net: Mass, low: Mass, high: Mass, card: ScaleCard) -> bool:
    """Whether one drop more would change the verdict on `net`: it lies just below `low` or just below `high`."""
    drop = min(max(DROP.mg, card.readability.mg), (high - low).mg // 4)
    return 0 < (low - net).mg <= drop or 0 <= (high - net).mg < drop


def drops_may_come(window: Window, card: ScaleCard, poured_until_s: float | None) -> bool:
    """Whether the load, at rest, has risen so lately that the next single drop may still be on its way."""
    if poured_until_s is None or not window or window[-1].at_s - poured_until_s > LONGEST_S + card.lag_s:
        return False
    return at_rest(window, card, max(settle_s(card), DROPS_S)) is None


def flow_g_s(window: Window, seconds: float = 1.0) -> float:
    """Slope of a least-squares line through the last `seconds` in g/s; 0 while too little is known."""
    recent = tuple(point for point in window if point.at_s >= window[-1].at_s - seconds) if window else ()
    if len(recent) < LEAST_READINGS:
        return 0.0
    mean_t = sum(point.at_s for point in recent) / len(recent)
    mean_m = sum(point.mg for point in recent) / len(recent)
    spread = sum((point.at_s - mean_t) ** 2 for point in recent)
    if spread <= 0:
        return 0.0
    return sum((point.at_s - mean_t) * (point.mg - mean_m) for point in recent) / spread / 1000


def still_owed_mg(window: Window, card: ScaleCard, poured_until_s: float | None) -> float:
    """Mass in mg that a dying stream may still bring: a t^(-3/2) tail at flow q still owes about q x t."""
    if poured_until_s is None or not window:
        return 0.0
    flow = abs(flow_g_s(window, settle_s(card))) * 1000
    return flow * max(0.0, window[-1].at_s - poured_until_s)
