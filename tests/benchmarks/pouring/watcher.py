"""People without guidance, in our own simulator: they watch the display, slow down by it and stop by it.

The naive stops when the display shows the target. The practised remembers how far it ran on and stops so much earlier,
and one tolerance more. Both pour the rest by eye. They read as fast as others hear a tone, which flatters them.
"""

from __future__ import annotations

import numpy as np

from tests.benchmarks.pouring.guided import Said

SLOW_S, PRACTISED_SLOW_S = 2.2, 3.1
"""They pour so much that what is missing would take so long (assumed)."""

REMEMBERS, ROUGHLY = 0.6, 0.25
"""How much of a miss a practised person takes over, and how roughly he saw it (assumed)."""

STILL_S = 1.2
"""A display that has not moved for so long is taken for rest."""

OPENS_S, ANSWERS_S, BY_EYE = 0.9, 0.3, 0.2
"""A top-up begins so late, a hand closes so late of its own will, and so far is its length off (assumed)."""


class Watcher:
    """One lane: the person who looks, instead of a bench that speaks. `coarse_g_s` and `thin_g_s` are his streams."""

    def __init__(  # noqa: PLR0917  # what a person is
        self, rng: np.random.Generator, target_g: float, tolerance_g: float, d_g: float, coarse_g_s: float,
        thin_g_s: float, practised: bool,
    ) -> None:  # fmt: skip
        self.rng, self.target, self.tolerance, self.d, self.practised = rng, target_g, tolerance_g, d_g, practised
        self.coarse, self.thin = coarse_g_s, thin_g_s
        self.slow_s = (PRACTISED_SLOW_S if practised else SLOW_S) * float(rng.uniform(0.7, 1.4))
        self.runs_on = 0.0
        self.next_pour()

    def next_pour(self) -> None:
        self.seen, self.moved_s, self.stopped_s, self.again = 0.0, 0.0, -1.0, False
        self.looked: float | None = None
        self.last: float | None = None

    def reading(self, at_s: float, shown_g: float, stable: bool) -> Said | None:
        del stable
        if abs(shown_g - self.seen) > 1.01 * self.d:
            self.seen, self.moved_s = shown_g, at_s
        if self.stopped_s >= 0:
            return self._waits(at_s, shown_g)
        early = self.runs_on + self.tolerance if self.practised and not self.again else 0.0
        if shown_g >= self.target - early - 1e-9:
            self.stopped_s = at_s
            return (None, 0.0, False)
        if self.again:
            return None
        pace = max(0.0, min(1.0, 1 - (self.target - shown_g) / self.slow_s / self.coarse))
        told = pace if self.looked is None or abs(pace - self.looked) > 0.01 else None
        self.looked = pace if told is not None else self.looked
        return (told, None, False) if told is not None else None

    def _waits(self, at_s: float, shown_g: float) -> Said | None:
        if at_s - self.stopped_s < STILL_S or at_s - self.moved_s < STILL_S:
            return None
        if not self.again:
            missed = (shown_g - self.target) * float(np.exp(ROUGHLY * self.rng.standard_normal()))
            self.runs_on = max(0.0, min(0.5 * self.target, self.runs_on + REMEMBERS * missed))
        if shown_g >= self.target - self.tolerance - 1e-9:
            return (None, None, True)
        wanted_s = (self.target - shown_g) / self.thin * float(np.exp(BY_EYE * self.rng.standard_normal()))
        blip_s = OPENS_S + max(0.35, min(4.0, wanted_s)) - ANSWERS_S
        self.again, self.stopped_s, self.moved_s = True, at_s + blip_s, at_s + blip_s
        return (1.0, blip_s, False)
