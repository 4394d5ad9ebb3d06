"""Commands of led pours: forget what was learned, practise with water, end that."""

from __future__ import annotations

from dataclasses import dataclass

from station.core.mass import Mass
from station.core.material import ScaleCard


@dataclass(frozen=True, slots=True)
class ForgetPours:
    """Forget what pours of one ingredient have taught, or all of them where `everything`."""

    material: str
    ingredient: str
    everything: bool
    by: str


@dataclass(frozen=True, slots=True)
class BeginPractice:
    """Pour `target` of water `times` times, each within ± `percent` %, on the scale of this card."""

    target: Mass
    percent: float
    times: int
    card: ScaleCard
    by: str


@dataclass(frozen=True, slots=True)
class EndPractice:
    """Enough practised."""

    by: str


PouringCommand = ForgetPours | BeginPractice | EndPractice
