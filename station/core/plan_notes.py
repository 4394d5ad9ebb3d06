"""What is to be said of a plan because of its material's sheet and of the lots that were named for it."""

from __future__ import annotations

from station.core.material import Lot, Material
from station.texts import N_, t

EXAMPLE = N_("This material is an invented example: replace it by your own data sheet before you cast.")


def sheet_notes(material: Material, lots: tuple[Lot, ...]) -> tuple[str, ...]:
    """That the sheet is invented, and which components have no lot."""
    notes = []
    if material.example:
        notes.append(t(EXAMPLE))
    if said := lots_missing(material, lots):
        notes.append(said)
    return tuple(notes)


def lots_missing(material: Material, lots: tuple[Lot, ...]) -> str:
    """Which components have no lot, as a sentence; empty when each has one."""
    known = {lot.component for lot in lots}
    without = [component.name for component in material.components if component.name not in known]
    if not without:
        return ""
    return t(
        "No lot is named for {without}: the record will not say which container it came from.",
        without=", ".join(without),
    )
