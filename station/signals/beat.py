"""Beat: the time by which a score is played. It waits at each edge until that edge has been played.

A busy machine may wake the playing thread late. Pulses that would then be over are not left out and do not
run together, for two short ones mean something else than one: what is late is played late.
"""

from __future__ import annotations

from collections.abc import Callable


class Beat:
    """Seconds that run with `ticks` (a clock that never runs back) and stand still at `stop_at`."""

    def __init__(self, ticks: Callable[[], float]) -> None:
        self._ticks = ticks
        self._late_s = 0.0
        self._now_s = ticks()
        self._stop_s: float | None = None

    def now(self) -> float:
        """The time of the score; it never runs back and never passes the stop."""
        now_s = self._ticks() - self._late_s
        if self._stop_s is not None and now_s > self._stop_s:
            self._late_s += now_s - self._stop_s
            now_s = self._stop_s
        self._now_s = max(self._now_s, now_s)
        return self._now_s

    def stop_at(self, edge_s: float | None) -> None:
        """Stand still at this time until told of a later one; None: run on."""
        self._stop_s = edge_s
