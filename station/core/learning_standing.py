"""What the durable state keeps of learning: advice that plans use, and trials."""

from __future__ import annotations

from dataclasses import dataclass

from station.core.trial_events import TrialBegun, TrialRun

TRIALS_KEPT = 24
"""So many trials stay at hand, the newest; older ones that have ended are in the journal alone."""


@dataclass(frozen=True, slots=True)
class Trial:
    """A trial as it was dealt out, and which cast is which of its runs: (run, cast number), in order of runs."""

    begun: TrialBegun
    casts: tuple[tuple[int, int], ...] = ()
    ended: bool = False
    reason: str = ""

    @property
    def number(self) -> int:
        """Its own number."""
        return self.begun.trial

    def cast_of(self, run: int) -> int | None:
        """The cast that is this run; None while there is none."""
        return next((cast for at, cast in self.casts if at == run), None)

    @property
    def next_run(self) -> TrialRun | None:
        """The first run without a cast; None when all have one."""
        return next((run for run in self.begun.runs if self.cast_of(run.run) is None), None)
