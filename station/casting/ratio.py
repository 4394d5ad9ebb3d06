"""Mix ratio: from parts on a sheet to shares by weight, and from shares to masses."""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum, auto

from station.texts import t


def weight_shares(parts: Sequence[float], densities: Sequence[float | None] | None = None) -> tuple[float, ...]:
    """Share of each component in the mass of all components together (sums to 1).

    `parts` by weight when `densities` is None; otherwise parts by volume, with each density in g/cm³:
    mass = volume x density, so a share by weight is parts x density / sum(parts x density).
    Raises ValueError for a part that is not positive or a missing density.
    """
    if any(part <= 0 for part in parts):
        raise ValueError(t("every part of a mix ratio must be above zero"))
    if densities is None:
        weights = list(parts)
    else:
        weights = []
        for part, density in zip(parts, densities, strict=True):
            if density is None or density <= 0:
                raise ValueError(t("a mix ratio by volume needs the density of every component"))
            weights.append(part * density)
    whole = sum(weights)
    return tuple(weight / whole for weight in weights)


def ratio_error_percent(actual: float, other_actual: float, share: float, other_share: float) -> float:
    """Error of the ratio actual : other against share : other_share, in % of the latter."""
    return (actual / other_actual) / (share / other_share) * 100 - 100


def volume_shares(weights: Sequence[float], densities: Sequence[float]) -> tuple[float, ...]:
    """Shares by volume of components given by weight: parts ÷ density, of their sum. Densities in g/cm³."""
    if any(value <= 0 for value in (*weights, *densities)):
        raise ValueError(t("every part and density of a mix ratio must be above zero"))
    volumes = [weight / density for weight, density in zip(weights, densities, strict=True)]
    whole = sum(volumes)
    return tuple(volume / whole for volume in volumes)


class Of(Enum):
    """What an additive's per cent counts from."""

    COMPONENT = auto()
    """One component."""
    COMPONENTS = auto()
    """All components together."""
    WHOLE = auto()
    """The whole mix, the additive included."""


def additive_shares(additives: Sequence[tuple[float, Of, float]]) -> tuple[float, ...]:
    """Masses of all additives per gram of components; each (percent, of what, share of its component).

    With c of them counted from the components and x = Σ of those counted from the whole mix, the whole weighs
    (1 + c)/(1 − x) per gram of components. Raises ValueError when x reaches 100 %.
    """
    plain = [p / 100 * (share if of is Of.COMPONENT else 1.0) for p, of, share in additives if of is not Of.WHOLE]
    x = sum(p / 100 for p, of, _ in additives if of is Of.WHOLE)
    if any(p < 0 for p, _, _ in additives) or x >= 1:
        raise ValueError(t("additives must not be negative, and together stay below 100 % of the whole mix"))
    whole = (1 + sum(plain)) / (1 - x)
    return tuple(
        p / 100 * (whole if of is Of.WHOLE else share if of is Of.COMPONENT else 1.0) for p, of, share in additives
    )
