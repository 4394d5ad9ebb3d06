"""What the record says of molds, kept in memory."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from station.core.mold_care import MoldCare, care_of
from station.errors import StationError
from station.insight.facts import CastFacts
from station.insight.wear import Wear, wear
from station.phone.mold_view import MoldCasts


@dataclass
class SmallBook:
    """Implements `phone.mold_view.MoldBook`; `broken` is raised instead of answering from the record."""

    pasts: dict[str, MoldCasts] = field(default_factory=dict)
    molds: tuple[MoldCare, ...] = ()
    shots: tuple[CastFacts, ...] = ()
    broken: StationError | None = None

    def casts(self) -> Mapping[str, MoldCasts]:
        if self.broken is not None:
            raise self.broken
        return self.pasts

    def wear(self, key: str) -> Wear:
        if self.broken is not None:
            raise self.broken
        return wear(self.shots)

    def care(self, key: str) -> MoldCare:
        return care_of(self.molds, key)
