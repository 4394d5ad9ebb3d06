"""What a person types for a new cast: keys of sheets, an amount, lot numbers. Each refusal names its field."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TypeVar

from station.core.amount import from_cavity, given
from station.core.material import Lot, Material, Mold
from station.core.mix_amount import Amount
from station.core.standing import Standing
from station.core.workplace import Workplace
from station.errors import Refused, SettingsError, WrongField
from station.quantities import mass, volume

_Sheet = TypeVar("_Sheet", Material, Mold)


def chosen(sheets: Sequence[_Sheet], field: str, key: str) -> _Sheet:
    """The sheet of this key. `field` is "material" or "mold". Raises WrongField."""
    found = next((sheet for sheet in sheets if sheet.key == key), None)
    if found is None:
        known = ", ".join(sheet.key for sheet in sheets)
        raise WrongField(field, f"{field.capitalize()} {key!r} is not on the shelf.", f"Known: {known}.")
    return found


def lots_named(named: Mapping[str, str], sheet: Material, shelf: Sequence[Lot]) -> tuple[Lot, ...]:
    """Lots as typed; what a lot sheet knows of the same number is taken over. Raises WrongField for another's lot."""
    known = {lot.number: lot for lot in shelf}
    return tuple(
        _lot(sheet, name, number.strip(), known.get(number.strip()))
        for name, number in named.items()
        if name in sheet.ingredients() and number.strip()
    )


def _lot(sheet: Material, name: str, number: str, known: Lot | None) -> Lot:
    if known is None:
        return Lot(name, number)
    if (known.material and known.material != sheet.key) or known.component != name:
        raise WrongField(
            f"lot {name}",
            f"Lot {number} is {known.component} of {known.material or 'another material'}, not {name} of {sheet.key}.",
            "Read the number on the container again.",
        )
    return known


def amount_typed(typed: str, sheet: Material, mold: Mold, place: Workplace, standing: Standing) -> Amount:
    """A mass counts as it is; a volume is that of the cavity; nothing typed means what the mold usually takes.

    Raises WrongField.
    """
    try:
        return _amount(typed, sheet, mold, place, standing)
    except WrongField:
        raise
    except Refused as why:
        raise WrongField("amount", str(why), why.hint) from None


def _amount(typed: str, sheet: Material, mold: Mold, place: Workplace, standing: Standing) -> Amount:
    if not typed.strip():
        if mold.shot is not None:
            return given(sheet, mold, mold.shot, f"is usual for {mold.title}", place=place, standing=standing)
        if mold.cavity_cm3 is not None:
            return from_cavity(sheet, mold, mold.cavity_cm3, place, standing)
        raise WrongField(
            "amount",
            "Amount of mix is empty.",
            f"{mold.title} has no usual amount: enter one, such as 220 g or 500 ml.",
        )
    try:
        return given(sheet, mold, mass(typed), "as typed", place=place, standing=standing)
    except SettingsError as wrong:
        no_mass = wrong
    try:
        cavity_cm3 = volume(typed)
    except SettingsError:
        raise WrongField(
            "amount", f"Amount of mix: {no_mass}", "A volume, such as 500 ml, is taken as that of the cavity."
        ) from None
    return from_cavity(sheet, mold, cavity_cm3, place, standing)
