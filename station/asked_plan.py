"""What a person types for a new cast: keys of sheets, an amount, lot numbers. Each refusal names its field."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TypeVar

from station.core.adopted import amount_adopted, as_adopted, shot_adopted
from station.core.amount import from_cavity, given
from station.core.material import Lot, Material, Mold
from station.core.mix_amount import Amount
from station.core.standing import Standing
from station.core.workplace import Workplace
from station.errors import Refused, SettingsError, WrongField
from station.quantities import mass, volume
from station.texts import N_, t

_Sheet = TypeVar("_Sheet", Material, Mold)
_NOT_THERE = {
    "material": N_("Material {key} is not on the shelf."),
    "mold": N_("Mold {key} is not on the shelf."),
}


def chosen(sheets: Sequence[_Sheet], field: str, key: str) -> _Sheet:
    """The sheet of this key. `field` is "material" or "mold". Raises WrongField."""
    found = next((sheet for sheet in sheets if sheet.key == key), None)
    if found is None:
        known = ", ".join(sheet.key for sheet in sheets)
        raise WrongField(field, t(_NOT_THERE[field], key=repr(key)), t("Known: {known}.", known=known))
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
            t(
                "Lot {lot} is {component} of {material}, not {name} of {sheet}.",
                lot=number,
                component=known.component,
                material=known.material or t("another material"),
                name=name,
                sheet=sheet.key,
            ),
            t("Read the number on the container again."),
        )
    return known


def amount_typed(typed: str, sheet: Material, mold: Mold, place: Workplace, standing: Standing) -> Amount:
    """A mass counts as it is; a volume is that of the cavity; nothing typed means what was adopted from
    earlier casts, else what the mold usually takes.

    Raises WrongField.
    """
    try:
        return _amount(typed, as_adopted(sheet, standing), mold, place, standing)
    except WrongField:
        raise
    except Refused as why:
        raise WrongField("amount", str(why), why.hint) from None


def _amount(typed: str, sheet: Material, mold: Mold, place: Workplace, standing: Standing) -> Amount:
    if not typed.strip():
        if advice := shot_adopted(sheet, mold, standing):
            return amount_adopted(sheet, mold, advice, place=place, standing=standing)
        if mold.shot is not None:
            return given(sheet, mold, mold.shot, N_("{total} is usual for {mold}"), place=place, standing=standing)
        if mold.cavity_cm3 is not None:
            return from_cavity(sheet, mold, mold.cavity_cm3, place, standing)
        raise WrongField(
            "amount",
            t("Amount of mix is empty."),
            t("{mold} has no usual amount: enter one, such as 220 g or 500 ml.", mold=mold.title),
        )
    try:
        return given(sheet, mold, mass(typed), N_("{total} as typed"), place=place, standing=standing)
    except SettingsError as wrong:
        no_mass = wrong
    try:
        cavity_cm3 = volume(typed)
    except SettingsError:
        raise WrongField(
            "amount",
            t("Amount of mix: {problem}", problem=no_mass),
            t("A volume, such as 500 ml, is taken as that of the cavity."),
        ) from None
    return from_cavity(sheet, mold, cavity_cm3, place, standing)
