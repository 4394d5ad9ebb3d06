"""Mix ratio: from parts on a sheet to shares by weight, and from shares to masses."""

from __future__ import annotations

from collections.abc import Sequence


def weight_shares(parts: Sequence[float], densities: Sequence[float | None] | None = None) -> tuple[float, ...]:
    """Share of each component in the mass of all components together (sums to 1).

    `parts` by weight when `densities` is None; otherwise parts by volume, with each density in g/cm³:
    mass = volume x density, so a share by weight is parts x density / sum(parts x density).
    Raises ValueError for a part that is not positive or a missing density.
    """
    if any(part <= 0 for part in parts):
        raise ValueError("every part of a mix ratio must be above zero")
    if densities is None:
        weights = list(parts)
    else:
        weights = []
        for part, density in zip(parts, densities, strict=True):
            if density is None or density <= 0:
                raise ValueError("a mix ratio by volume needs the density of every component")
            weights.append(part * density)
    whole = sum(weights)
    return tuple(weight / whole for weight in weights)


def ratio_error_percent(actual: float, other_actual: float, share: float, other_share: float) -> float:
    """Error of the ratio actual : other against share : other_share, in % of the latter."""
    return (actual / other_actual) / (share / other_share) * 100 - 100
