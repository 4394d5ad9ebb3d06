"""CastPlan: everything decided before the first cup, frozen into the record of its cast."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from station.core.mass import ZERO, Mass
from station.core.material import Cup, Lot, Material, Mold, ScaleCard
from station.core.steps import Step
from station.texts import N_


class Way(Enum):
    """How the components come together."""

    ONE_CUP = N_("one cup")
    TWO_CUPS = N_("two cups")


@dataclass(frozen=True, slots=True)
class Share:
    """One ingredient of the batch: `share` is its mass per gram of all components without additives.

    `stays` is what will cling to its cup and never reach the mix; `planned` is the mass to weigh, `stays`
    included. `percent` is the tolerance. `stock` is what is left of it, None when not known.
    """

    ingredient: str
    cup: str
    share: float
    planned: Mass
    percent: float
    stays: Mass = ZERO
    stock: Mass | None = None
    component: bool = True


@dataclass(frozen=True, slots=True)
class CastPlan:
    """A batch for one mold. `steps` is how the cast goes if nothing goes wrong; `notes` are worth a look,
    `warnings` must be read before the first cup.

    `weighing_s` is what one weighing takes at this bench, in seconds. `pot_life_s` is the pot life for its mass
    and temperature, None when it was planned without. `humidity_percent` is the air's when it was planned.
    """

    material: Material
    mold: Mold
    total: Mass
    way: Way
    way_reason: str
    shares: tuple[Share, ...]
    steps: tuple[Step, ...]
    scale: ScaleCard
    cup: Cup
    lots: tuple[Lot, ...] = ()
    notes: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    temperature_c: float | None = None
    weighing_s: float = 40.0
    pot_life_s: float | None = None
    humidity_percent: float | None = None

    @property
    def limit_s(self) -> float:
        """The pot life that this cast's clock counts to."""
        return self.material.times.pot_life_s if self.pot_life_s is None else self.pot_life_s

    @property
    def pour_by_s(self) -> float:
        """When mixing must stop: the pot life less what pouring takes, or half of it where a hot day leaves less."""
        left = self.limit_s - self.material.times.pour_reserve_s
        return left if left > 0 else self.limit_s / 2
