"""Shares by weight of a material's components, whatever its ratio counts."""

from __future__ import annotations

from station.casting.ratio import weight_shares
from station.core.material import Basis, Material


def component_shares(material: Material) -> dict[str, float]:
    """Mass of each component per gram of all components. Raises ValueError for parts or densities that cannot be."""
    parts = [component.parts for component in material.components]
    densities = [c.density for c in material.components] if material.basis is Basis.VOLUME else None
    names = (component.name for component in material.components)
    return dict(zip(names, weight_shares(parts, densities), strict=True))
