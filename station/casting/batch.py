"""Batch: the mass of every ingredient from a total, a volume or what is left, and targets a scale can show."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from station.errors import Refused


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
            raise Refused("The amount of mix must be above zero.", "Type what goes into the mold.")
        scale = total_g / self.whole
        return {name: scale * share for name, share in (*self.components.items(), *self.additives.items())}

    def total_from(self, name: str, mass_g: float) -> float:
        """The mix in g that `mass_g` of one ingredient makes. Raises Refused for an unknown one."""
        share = {**self.components, **self.additives}.get(name)
        if not share:
            raise Refused(f"{name!r} is not in this mix.", f"It has: {', '.join((*self.components, *self.additives))}.")
        return mass_g / share * self.whole

    def largest(self, left_g: Mapping[str, float]) -> tuple[float, str]:
        """The largest mix in g that the stock allows, and which ingredient limits it. Raises Refused without any."""
        found = [(self.total_from(name, mass), name) for name, mass in left_g.items()]
        if not found:
            raise Refused("Nothing is known of the stock.", "Type what is left of one component at least.")
        return min(found)


def mixed_density(shares: Mapping[str, float], densities: Mapping[str, float]) -> float:
    """Density of the mix in g/cm³ when volumes simply add up: 1/ρ = Σ share/ρ. An estimate: real mixes may shrink."""
    missing = [name for name in shares if not densities.get(name)]
    if missing:
        raise Refused(f"The density of {', '.join(missing)} is not known.", "It is on the data sheet.")
    return sum(shares.values()) / sum(share / densities[name] for name, share in shares.items())


def grown_for_loss(wanted_g: float, loss_percent: float) -> float:
    """Mass to mix so that `wanted_g` leaves the cup: wanted ÷ (1 − loss). Raises Refused when none is left."""
    if not 0 <= loss_percent < 90:
        raise Refused(f"A loss of {loss_percent:g} % leaves nothing to pour.", "Type what stays behind, such as 3 %.")
    return wanted_g / (1 - loss_percent / 100)


@dataclass(frozen=True, slots=True)
class Rounded:
    """Targets as whole steps of a scale: masses in g, and the largest error of any share, in %."""

    masses: Mapping[str, float]
    total_g: float
    error_percent: float


STEPS_SEARCHED = 400


def rounded(recipe: Recipe, total_g: float, step_g: float, tolerance_percent: float) -> Rounded:
    """Targets in whole steps of the scale, at least `total_g` in all, that keep every share best within tolerance.

    The first ingredient is tried at so many steps upward that the mix grows by at most 5 %; each other follows its
    share to the nearest step. The smallest mix within a tenth of the tolerance is taken, else the best found.
    Raises Refused, with the smallest batch that works, when no choice is within the tolerance.
    """
    exact = recipe.masses(total_g)
    first = next(iter(exact))
    start = math.ceil(exact[first] / step_g - 1e-9)
    tries = min(STEPS_SEARCHED, max(1, math.ceil(exact[first] * 0.05 / step_g)))
    best: Rounded | None = None
    for steps in range(start, start + tries + 1):
        found = _at(exact, first, steps, step_g)
        if found.total_g < total_g - 1e-9:
            continue
        if best is None or found.error_percent < best.error_percent - 1e-12:
            best = found
        if found.error_percent <= tolerance_percent / 10:
            return found
    if best is None or best.error_percent > tolerance_percent:
        least = min(recipe.masses(1.0).values())
        smallest = step_g / 2 / (tolerance_percent / 100) / least
        raise Refused(
            f"Steps of {step_g:g} g are too coarse for ± {tolerance_percent:g} % of {total_g:.4g} g.",
            f"From about {math.ceil(smallest * 10) / 10:g} g of mix on it works.",
        )
    return best


def _at(exact: Mapping[str, float], first: str, steps: int, step_g: float) -> Rounded:
    # Counted in whole steps, so that 0.1 g steps do not drift.
    grown = steps * step_g / exact[first]
    counts = {name: max(1, round(mass * grown / step_g)) for name, mass in exact.items()} | {first: steps}
    scale = grown
    error = max(abs(count * step_g / (exact[name] * scale) - 1) * 100 for name, count in counts.items())
    return Rounded(
        {name: round(count * step_g, 9) for name, count in counts.items()},
        round(sum(counts.values()) * step_g, 9),
        error,
    )
