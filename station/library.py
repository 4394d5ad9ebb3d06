"""Library: the sheets, the lots and the log, as the pages and the command line ask for them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date

from station.asked_plan import amount_typed, chosen, lots_named
from station.casting.stock import warnings
from station.core.adopted import as_adopted
from station.core.lots import container, next_lot, of_material
from station.core.material import Lot, Material, Mold
from station.core.messages import BeginCast, QueueCast
from station.core.mix_amount import Amount
from station.core.mold_care import care_of
from station.core.plan import CastPlan
from station.core.plan_checks import Check, Finding, checks_failed, checks_of
from station.core.planning import Impossible, planned
from station.core.queueing import after, plan_in
from station.core.standing import Standing
from station.core.workplace import Workplace
from station.errors import Refused
from station.phone.lot_view import LotLine, LotSeen
from station.phone.shelf import Chosen, QueueLine, Recent
from station.sheets import Sheets
from station.store.archive import Archive
from station.texts import t

RECENT_CASTS = 200
"""Among so many of the latest casts the molds are looked for that may be cast in again."""
RECENT_SHOWN = 6


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
        """The mold sheets, those of retired molds last."""
        care = self._standing().molds
        return sorted(self._sheets().molds, key=lambda mold: bool(care_of(care, mold.key).retired))

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

    def lot(self, number: str, *, before: int | None = None) -> LotSeen:
        """One lot, on the shelf or not; of its casts the newest numbered below `before`. Raises LedgerFault."""
        shelf = tuple(line for line in self.lots() if line.number == number)
        at_first = next((lot.left for lot in self._sheets().lots if lot.number == number), None)
        left = self._standing().left(number, at_first)
        return LotSeen(shelf, self._archive.lot(number, before=before), left)

    def plan(self, material: str, mold: str, total: str, lots: Mapping[str, str], by: str) -> BeginCast:
        """Work out a batch from what was typed. Raises WrongField, or Impossible with every reason."""
        return BeginCast(self._worked_out(Chosen(material, mold, total, lots), self._standing())[0], by)

    def for_queue(self, asked: Chosen, by: str, instead: int | None = None) -> QueueCast:
        """The same for the end of the queue, where what waits already takes its lots first."""
        standing = self._standing()
        before = [one.plan for one in standing.queue if one.ticket != instead]
        plan, amount = self._worked_out(asked, after(standing, before))
        return QueueCast(plan, amount, self._place().promise, asked.amount, by, instead)

    def _worked_out(self, asked: Chosen, standing: Standing) -> tuple[CastPlan, Amount]:
        sheet = chosen(self.materials(), "material", asked.material)
        cavity = chosen(self.molds(), "mold", asked.mold)
        place = self._place()
        amount = amount_typed(asked.amount, sheet, cavity, place, standing)
        named = lots_named(asked.lots, sheet, self._sheets().lots)
        return planned(sheet, cavity, amount, place=place, standing=standing, lots=named), amount

    def waiting(self) -> Sequence[QueueLine]:
        """The queue, each plan with what its checks find after all that waits before it."""
        standing, place = self._standing(), self._place()
        lines: list[QueueLine] = []
        before: list[CastPlan] = []
        for one in standing.queue:
            try:
                checks = checks_of(plan_in(one, place, after(standing, before)))
            except Impossible as why:
                checks = checks_failed(why)
            except Refused as why:
                checks = (Check(Finding.REFUSED, why.sentence()),)
            plan = one.plan
            if changed := self._changed(plan):
                checks = (Check(Finding.LOOK, changed), *checks)
            total = plan.total.text(plan.scale.readability)
            lines.append(QueueLine(one.ticket, plan.material.title, plan.mold.title, total, checks))
            before.append(plan)
        return lines

    def _changed(self, plan: CastPlan) -> str:
        """What a sheet says otherwise by now, as a sentence; empty when nothing."""
        standing = self._standing()
        # What was adopted since is used when it is worked out again; what was dropped since stands in the plan.
        sheets = [as_adopted(sheet, standing) for sheet in self.materials()]
        same = as_adopted(plan.material, standing) in sheets and plan.mold in self.molds()
        return "" if same else t("A sheet was changed since this was queued. Change it to work it out anew.")

    def queued(self, ticket: int) -> Chosen | None:
        """What was asked for with a plan that waits; None when it waits no more."""
        found = next((one for one in self._standing().queue if one.ticket == ticket), None)
        return None if found is None else _asked(found.plan, found.typed)

    def again(self, number: int) -> Chosen | None:
        """What to ask for to repeat a cast, with the lots that go next where its own are not on the shelf any more."""
        plan = self._archive.plan(number)
        if plan is None:
            return None
        sheet = next((m for m in self.materials() if m.key == plan.material.key), plan.material)
        asked = _asked(plan, plan.total.text(plan.scale.readability))
        offered = self.lots_of(sheet)
        lots = {name: lot for name, lot in asked.lots.items() if lot in offered.get(name, ())}
        return Chosen(asked.material, asked.mold, asked.amount, lots)

    def recent(self) -> Sequence[Recent]:
        """The latest casts, one of each mold, newest first."""
        found: dict[str, Recent] = {}
        for line in self._archive.casts(RECENT_CASTS):
            found.setdefault(line.mold, Recent(line.number, line.mold, line.material))
        return list(found.values())[:RECENT_SHOWN]


def _asked(plan: CastPlan, typed: str) -> Chosen:
    return Chosen(plan.material.key, plan.mold.key, typed, {lot.component: lot.number for lot in plan.lots})


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
