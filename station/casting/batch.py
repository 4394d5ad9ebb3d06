"""Batch: the mass of every ingredient from a total, from a volume, or from what is left."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from station.errors import Refused
from station.texts import number, t


@dataclass(frozen=True, slots=True)
class Recipe:
    """Masses of ingredients per gram of all components together; `components` sum to 1, `additives` come on top."""

    components: Mapping[str, float]
    additives: Mapping[str, float]

    @property
    def whole(self) -> float:
        """Mass of the mix per gram of components."""
        return 1 + sum(self.additives.values())

    def masses(self, total_g: float) -> dict[str, float]:
        """Mass in g of each ingredient of `total_g` of mix. Raises Refused when that is not above zero."""
        if not (math.isfinite(total_g) and total_g > 0):
            raise Refused(t("The amount of mix must be above zero."), t("Type what goes into the mold."))
        scale = total_g / self.whole
        return {name: scale * share for name, share in (*self.components.items(), *self.additives.items())}

    def total_from(self, name: str, mass_g: float) -> float:
        """The mix in g that `mass_g` of one ingredient makes. Raises Refused for an unknown one."""
        share = {**self.components, **self.additives}.get(name)
        if not share:
            raise Refused(
                t("{ingredient} is not in this mix.", ingredient=repr(name)),
                t("It has: {ingredients}.", ingredients=", ".join((*self.components, *self.additives))),
            )
        return mass_g / share * self.whole

    def largest(self, left_g: Mapping[str, float]) -> tuple[float, str]:
        """The largest mix in g that the stock allows, and which ingredient limits it. Raises Refused without any."""
        found = [(self.total_from(name, mass), name) for name, mass in left_g.items()]
        if not found:
            raise Refused(t("Nothing is known of the stock."), t("Type what is left of one component at least."))
        used_up = [name for name, mass in left_g.items() if not mass > 0]
        if used_up:
            raise Refused(
                t("Nothing is left of {used_up}.", used_up=", ".join(used_up)), t("Open a new container of it.")
            )
        return min(found)


def mixed_density(shares: Mapping[str, float], densities: Mapping[str, float]) -> float:
    """Density of the mix in g/cm³ when volumes simply add up: 1/ρ = Σ share/ρ. An estimate: real mixes may shrink."""
    missing = [name for name in shares if not densities.get(name, 0) > 0]
    if missing:
        raise Refused(
            t("The density of {missing} is not known.", missing=", ".join(missing)), t("It is on the data sheet.")
        )
    return sum(shares.values()) / sum(share / densities[name] for name, share in shares.items())


def grown_for_loss(wanted_g: float, loss_percent: float) -> float:
    """Mass to mix so that `wanted_g` leaves the cup: wanted ÷ (1 − loss). Raises Refused when none is left."""
    if not 0 <= loss_percent < 90:
        raise Refused(
            t("A loss of {loss_percent} % leaves nothing to pour.", loss_percent=number(loss_percent)),
            t("Type what stays behind, such as 3 %."),
        )
    return wanted_g / (1 - loss_percent / 100)
