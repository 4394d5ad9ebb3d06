"""Lots of a material as containers: what is left of each by the record, which goes next, what is wrong with one."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from station.casting.stock import Container, next_to_use, warnings
from station.core.material import Lot, Material
from station.core.standing import Standing


def container(lot: Lot, material: Material, standing: Standing) -> Container:
    """The lot as it stands: its sheet's dates, and what casts and counts have left of it."""
    part = material.component(lot.component)
    left = standing.left(lot.number, lot.left)
    return Container(
        component=lot.component,
        number=lot.number,
        left_g=None if left is None else left.g,
        opened=lot.opened,
        best_before=lot.best_before,
        isocyanate=part is not None and part.isocyanate,
        opened_life_d=None if part is None else part.opened_life_d,
    )


def of_material(lots: Sequence[Lot], material: Material) -> tuple[Lot, ...]:
    """The lots that belong to a material: named for it, or for none while it has such an ingredient."""
    names = {c.name for c in material.components} | {a.name for a in material.additives}
    return tuple(lot for lot in lots if lot.component in names and lot.material in ("", material.key))


def next_lot(
    lots: Sequence[Lot], material: Material, ingredient: str, standing: Standing, today: date | None
) -> Lot | None:
    """The lot of an ingredient to take next; None when there is none on the shelf."""
    mine = {lot.number: lot for lot in of_material(lots, material) if lot.component == ingredient}
    chosen = next_to_use((container(lot, material, standing) for lot in mine.values()), today)
    return None if chosen is None else mine[chosen.number]


def lot_notes(lots: Sequence[Lot], material: Material, standing: Standing, today: date | None) -> tuple[str, ...]:
    """What is wrong with the lots that a cast takes from."""
    return tuple(said for lot in lots for said in warnings(container(lot, material, standing), today))
