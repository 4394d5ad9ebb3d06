"""A practice with water as it stands: what is to be poured, how often, and what came of it so far."""

from __future__ import annotations

from dataclasses import dataclass

from station.core.mass import Mass
from station.core.material import ScaleCard


@dataclass(frozen=True, slots=True)
class Practice:
    """`level` is what the pan showed before this pour, None while a cup is wanted; `done` are the masses poured."""

    target: Mass
    low: Mass
    high: Mass
    times: int
    card: ScaleCard
    by: str
    level: Mass | None = None
    done: tuple[Mass, ...] = ()

    @property
    def over(self) -> bool:
        """Whether all its pours are done."""
        return len(self.done) >= self.times
