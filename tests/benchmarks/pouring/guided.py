"""One bench for a vectorised simulator: the guidance as it is, and the station's own rules of rest and acceptance."""

from __future__ import annotations

from station.core.cups import ENOUGH_RESTS
from station.core.guidance.learned import Learned, learn, nothing_yet
from station.core.guidance.pour import Phase, Pour, due, fell_short, heard, lesson, rested
from station.core.guidance.task import Strength, Task
from station.core.mass import Mass
from station.core.material import ScaleCard
from station.core.messages import Stability
from station.core.rest import Window, at_rest, flicker_mg, still_owed_mg
from station.core.rest import heard as window_heard
from station.metrology.tolerance import window_mg

Said = tuple[float | None, float | None, bool]
"""Pace, seconds until the stop (negative: withdrawn), accepted."""


class GuidedBench:
    """Hears readings of one lane and says what the simulated person hears. Learns from pour to pour."""

    def __init__(self, target_g: float, percent: float, d_g: float, lag_s: float, strength: Strength) -> None:
        self.card, self.strength = ScaleCard(Mass.nearest(d_g), Mass.grams(5000), lag_s), strength
        self.learned: Learned = nothing_yet(lag_s)
        self.aim_at(target_g, percent)
        self.next_pour()

    def aim_at(self, target_g: float, percent: float) -> None:
        """Another target, as follows from what was poured before."""
        self.low, self.high = window_mg(round(target_g * 1000), percent)
        d_g, lag_s = self.card.readability.g, self.card.lag_s
        self.task = Task(target_g, self.low / 1000, self.high / 1000, d_g, lag_s, self.strength)

    def next_pour(self) -> None:
        self.pour, self.window = Pour(), Window()
        self.rests, self.poured_until_s, self.crest = 0, None, None
        self.pace: float | None = None
        self.accepted_g: float | None = None

    def reading(self, at_s: float, shown_g: float, stable: bool) -> Said | None:
        pour = self.pour
        if pour.stop_at_s is not None and pour.stop_at_s <= at_s:
            pour = due(pour, pour.stop_at_s, self.task) or pour
        was = pour.stop_at_s
        pour = heard(pour, at_s, shown_g, self.task, self.learned)
        stop_in = None
        if pour.stop_at_s is not None:
            stop_in = max(0.0, pour.stop_at_s - at_s)
            if stop_in == 0.0:
                pour = due(pour, at_s, self.task) or pour
        elif was is not None and pour.phase is not Phase.STOPPED:
            stop_in = -1.0
        self.pour = pour
        verdict = self._judged(at_s, shown_g, stable)
        pace = self.pour.pace if self.pour.phase is not Phase.STOPPED else None
        told = pace if pace is not None and pace != self.pace else None
        self.pace = pace
        return (told, stop_in, verdict) if told is not None or stop_in is not None or verdict else None

    def _judged(self, at_s: float, shown_g: float, stable: bool) -> bool:
        mg = round(shown_g * 1000)
        if self.crest is None or mg > self.crest + flicker_mg(self.card):
            self.poured_until_s = at_s if self.crest is not None else None
            self.crest = mg
        self.window = window_heard(self.window, at_s, Mass(mg), Stability.STABLE if stable else Stability.MOVING)
        load = at_rest(self.window, self.card)
        self.rests = 0 if load is None else self.rests + 1
        if load is None:
            return False
        if load.mg < self.low:
            cued = self.pour.cued
            if self.pour.phase is Phase.STOPPED and cued and at_s - cued.at_s > self.learned.runon.time_s + 0.5:
                self.pour = fell_short(self.pour, at_s, load.g, self.task, self.learned)
                self.pace = None
            return False
        tolerance = (self.high - self.low) / 2
        owed = still_owed_mg(self.window, self.card, self.poured_until_s)
        if owed > max(0.15 * tolerance, 0.4 * self.card.readability.mg) or self.rests < ENOUGH_RESTS:
            return False
        pour = rested(self.pour, load.g)
        self.learned = learn(self.learned, lesson(pour), self.task)
        self.accepted_g = load.g
        return True
