"""Library: the sheets, the lots and the log, as the pages and the command line ask for them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date

from station.casting.stock import warnings
from station.core.amount import from_cavity, given
from station.core.lots import container, next_lot, of_material
from station.core.material import Lot, Material, Mold
from station.core.messages import BeginCast
from station.core.mix_amount import Amount
from station.core.planning import planned
from station.core.standing import Standing
from station.core.workplace import Workplace
from station.errors import Refused, SettingsError
from station.phone.shelf import CastLine
from station.phone.stock_pages import LotLine
from station.quantities import mass, volume
from station.sheets import Sheets
from station.store.archive import Archive
from station.store.batch_record import as_text


class Library:
    """Implements `phone.shelf.Shelf` and `phone.stock_pages.Stock`.

    `sheets`, `place` and `standing` give the present ones, for the scale's promise, stock, loss and cling.
    """

    def __init__(
        self,
        sheets: Callable[[], Sheets],
        archive: Archive,
        place: Callable[[], Workplace],
        standing: Callable[[], Standing],
    ) -> None:
        self._sheets, self._archive, self._place, self._standing = sheets, archive, place, standing

    def materials(self) -> Sequence[Material]:
        """The material sheets, in the order in which they were read."""
        return self._sheets().materials

    def molds(self) -> Sequence[Mold]:
        """The mold sheets."""
        return self._sheets().molds

    def casts(self, limit: int, offset: int) -> Sequence[CastLine]:
        """A part of the log, newest first."""
        return [
            CastLine(
                line.number,
                line.begun.wall,
                line.begun.sure,
                line.material,
                line.mold,
                line.total,
                line.stage.value + (f", {line.missed} alarm(s) missed" if line.missed else ""),
            )
            for line in self._archive.casts(limit, offset)
        ]

    def record_text(self, number: int) -> str | None:
        """The batch record as plain text."""
        record = self._archive.record(number)
        return None if record is None else as_text(record)

    def lots_of(self, material: Material) -> Mapping[str, Sequence[str]]:
        """Numbers of the lots for each ingredient, the one to use next first."""
        standing, today = self._standing(), self._place().today
        mine = of_material(self._sheets().lots, material)
        found: dict[str, list[str]] = {}
        for name in dict.fromkeys(lot.component for lot in mine):
            chosen = next_lot(mine, material, name, standing, today)
            first = [] if chosen is None else [chosen.number]
            found[name] = [*first, *(lot.number for lot in mine if lot.component == name and lot != chosen)]
        return found

    def lots(self) -> Sequence[LotLine]:
        """All lots, those of one material together, each with what is left and what is wrong with it."""
        standing, today = self._standing(), self._place().today
        lines: list[LotLine] = []
        for sheet in self.materials():
            for name, numbers in self.lots_of(sheet).items():
                for lot in of_material(self._sheets().lots, sheet):
                    if lot.component == name:
                        lines.append(
                            _line(lot, sheet, standing, today, goes_next=len(numbers) > 1 and lot.number == numbers[0])
                        )
        return lines

    def plan(self, material: str, mold: str, total: str, lots: Mapping[str, str], by: str) -> BeginCast:
        """Work out a batch from what was typed. Raises Refused that names the field."""
        sheet = next((m for m in self.materials() if m.key == material), None)
        if sheet is None:
            known = ", ".join(m.key for m in self.materials())
            raise Refused(f"Material {material!r} is not on the shelf.", f"Known: {known}.")
        cavity = next((m for m in self.molds() if m.key == mold), None)
        if cavity is None:
            known = ", ".join(m.key for m in self.molds())
            raise Refused(f"Mold {mold!r} is not on the shelf.", f"Known: {known}.")
        place, standing = self._place(), self._standing()
        plan = planned(
            sheet,
            cavity,
            _amount(total, sheet, cavity, place, standing),
            place=place,
            standing=standing,
            lots=self._lots(sheet, lots),
        )
        return BeginCast(plan, by)

    def _lots(self, sheet: Material, named: Mapping[str, str]) -> tuple[Lot, ...]:
        """Lots as typed; what a lot sheet knows of the same number is taken over. Raises Refused for another's lot."""
        shelf = {lot.number: lot for lot in self._sheets().lots}
        known = {c.name for c in sheet.components} | {a.name for a in sheet.additives}
        return tuple(
            _lot(sheet, name, number.strip(), shelf.get(number.strip()))
            for name, number in named.items()
            if name in known and number.strip()
        )


def _line(lot: Lot, sheet: Material, standing: Standing, today: date | None, *, goes_next: bool) -> LotLine:
    return LotLine(
        material=sheet.title,
        component=lot.component,
        number=lot.number,
        left=standing.left(lot.number, lot.left),
        empty=lot.empty,
        opened=lot.opened,
        best_before=lot.best_before,
        goes_next=goes_next,
        warnings=warnings(container(lot, sheet, standing), today),
    )


def _lot(sheet: Material, name: str, number: str, known: Lot | None) -> Lot:
    if known is None:
        return Lot(name, number)
    if (known.material and known.material != sheet.key) or known.component != name:
        raise Refused(
            f"Lot {number} is {known.component} of {known.material or 'another material'}, not {name} of {sheet.key}.",
            "Read the number on the container again.",
        )
    return known


def _amount(typed: str, sheet: Material, mold: Mold, place: Workplace, standing: Standing) -> Amount:
    """A mass counts as it is; a volume is that of the cavity; nothing typed means what the mold usually takes."""
    if not typed.strip():
        if mold.shot is not None:
            return given(sheet, mold, mold.shot, f"is usual for {mold.title}", place=place, standing=standing)
        if mold.cavity_cm3 is not None:
            return from_cavity(sheet, mold, mold.cavity_cm3, place, standing)
        raise Refused(
            "Amount of mix is empty.", f"{mold.title} has no usual amount: enter one, such as 220 g or 500 ml."
        )
    try:
        return given(sheet, mold, mass(typed), "as typed", place=place, standing=standing)
    except SettingsError as wrong:
        no_mass = wrong
    try:
        cavity_cm3 = volume(typed)
    except SettingsError:
        raise Refused(
            f"Amount of mix: {no_mass}", "A volume, such as 500 ml, is taken as that of the cavity."
        ) from None
    return from_cavity(sheet, mold, cavity_cm3, place, standing)
