"""What the record says of one lot: which casts contain it, and how often its container was counted."""

from __future__ import annotations

from dataclasses import dataclass

from station.core.judging_events import Verdict
from station.core.mass import ZERO, Mass
from station.records import Stage, When


@dataclass(frozen=True, slots=True)
class LotCast:
    """A cast that was begun with the lot; `taken` was weighed of it as `ingredient`. `verdict` None: not judged."""

    number: int
    begun: When
    mold: str
    material: str
    ingredient: str
    taken: Mass
    stage: Stage
    verdict: Verdict | None = None

    @property
    def contains(self) -> bool:
        """Whether any of the lot came into it."""
        return self.taken > ZERO

    @property
    def part(self) -> bool:
        """Whether there is a part that contains the lot or will be one: at the bench, in its mold, or out of it."""
        return self.contains and self.stage not in (Stage.LOST, Stage.GIVEN_UP)


@dataclass(frozen=True, slots=True)
class LotCount:
    """The container was weighed, and `left` was in it."""

    at: When
    left: Mass
    by: str


@dataclass(frozen=True, slots=True)
class LotRecord:
    """One lot: its casts, newest first, and its counts, oldest first.

    `older`: there are casts numbered below the last one of these.
    """

    lot: str
    casts: tuple[LotCast, ...]
    counts: tuple[LotCount, ...]
    older: bool = False

    @property
    def known(self) -> bool:
        """Whether the record knows anything of it."""
        return bool(self.casts or self.counts)

    @property
    def parts(self) -> tuple[LotCast, ...]:
        """The parts to set aside when the lot proves bad, newest first."""
        return tuple(cast for cast in self.casts if cast.part)
