"""What the bench still knows of parts that are out of their molds: whom to ask for the part, of what to remind."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from station.core.judging_events import Verdict
from station.core.mass import Mass
from station.core.material import ScaleCard
from station.core.moment import Moment

PARTS_KEPT: Final = 60
"""The newest parts that the bench remembers; the record knows them all."""


@dataclass(frozen=True, slots=True)
class Part:
    """A part that was demolded and is not judged to its end.

    `mixed` is what was weighed for it, `cavity_cm3` and `free_rise` (g/cm³) are those of its mold and foam where known.
    `cured` is when its full cure was over, None before or when its sheet gives none; `cures` says that this is still to
    come. `early` and `late`: a hardness was read before and after it. `hardness` is what the sheet promises.
    `scale` is the one that its mix was weighed on.
    """

    number: int
    mold: str
    material: str
    demolded: Moment
    mixed: Mass
    cavity_cm3: float | None
    free_rise: float | None
    hardness: str
    cures: bool
    scale: ScaleCard
    cured: Moment | None = None
    mass: Mass | None = None
    trimmed: bool = False
    early: bool = False
    late: bool = False
    verdict: Verdict | None = None

    @property
    def over(self) -> bool:
        """Nothing is asked for any more: a verdict, and a reading at full cure if one was to be compared."""
        return self.verdict is not None and (self.late or not (self.cures or self.cured is not None))
