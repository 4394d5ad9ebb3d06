"""The tables of the export, each column declared once. Never rename one: people's own sheets go by these names."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from station.export.casts_table import CASTS
from station.export.form import Column, Kind, Table
from station.texts import N_

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from station.core.judging_events import Defect
    from station.export.form import Told
    from station.part_records import HardnessRecord, LengthsRecord
    from station.records import AlarmRecord, IngredientRecord, PhotoRecord, RatioRecord, RemarkRecord, WeighingRecord

    Mixed = tuple[int, IngredientRecord, RatioRecord | None]

_CAST: Final = N_("number of the cast")
_SURE: Final = N_("whether the clock was right at that time")


def _mixed(told: Told) -> Iterator[Mixed]:
    by = {one.component: one for one in told.record.ratio}
    return ((told.record.number, one, by.get(one.ingredient)) for one in told.record.ingredients)


def _with_number(part: str) -> Any:
    def each(told: Told) -> Iterable[tuple[int, Any]]:
        return ((told.record.number, one) for one in getattr(told.record, part))

    return each


def _notes(told: Told) -> Iterator[tuple[int, str, RemarkRecord]]:
    record = told.record
    for kind, remarks in (
        ("note", record.remarks),
        ("overshoot", record.overshoots),
        ("interruption", record.interruptions),
        ("press", record.presses),
        ("part", () if record.part is None else record.part.told),
    ):
        yield from ((record.number, kind, one) for one in remarks)


INGREDIENTS: Final[Table[Mixed]] = Table(
    "ingredients",
    N_("One line for each ingredient of each batch, all its weighings together."),
    _mixed,
    (
        Column("cast", Kind.WHOLE, _CAST, lambda of: of[0]),
        Column(
            "ingredient", Kind.TEXT, N_("component or additive, as its sheet names it"), lambda of: of[1].ingredient
        ),
        Column("cup", Kind.TEXT, N_("the cup it was weighed into"), lambda of: of[1].cup),
        Column("component", Kind.FLAG, N_("a component, not an additive"), lambda of: of[1].component),
        Column("lot", Kind.TEXT, N_("number of the lot; empty when none was named"), lambda of: of[1].lot),
        Column("planned_mg", Kind.MASS, N_("planned when the cast was begun"), lambda of: of[1].planned.mg),
        Column("actual_mg", Kind.MASS, N_("weighed in all"), lambda of: _mg(of[1].actual)),
        Column("target_mg", Kind.MASS, N_("what the last weighing aimed at in all"), lambda of: _mg(of[1].target)),
        Column("low_mg", Kind.MASS, N_("lower edge of the band"), lambda of: _mg(of[1].low)),
        Column("high_mg", Kind.MASS, N_("upper edge of the band"), lambda of: _mg(of[1].high)),
        Column("error_percent", Kind.NUMBER, N_("(weighed - target) / target × 100"), lambda of: of[1].error_percent),
        Column("in_mix_mg", Kind.MASS, N_("what reached the mix"), lambda of: _mg(of[1].in_mix)),
        Column("in_mix_by", Kind.TEXT, N_("how that is known"), lambda of: str(of[1].in_mix_by)),
        Column(
            "parts_sheet",
            Kind.NUMBER,
            N_("parts by weight per 100 of the first component, by the sheet"),
            lambda of: None if of[2] is None else of[2].sheet,
        ),
        Column(
            "parts_mixed",
            Kind.NUMBER,
            N_("the same as it was mixed"),
            lambda of: None if of[2] is None else of[2].actual,
        ),
        Column(
            "parts_error_percent",
            Kind.NUMBER,
            N_("(mixed - sheet) / sheet × 100"),
            lambda of: None if of[2] is None else of[2].error_percent,
        ),
    ),
)

WEIGHINGS: Final[Table[tuple[int, WeighingRecord]]] = Table(
    "weighings",
    N_("One line for each weighing that was accepted."),
    _with_number("weighings"),
    (
        Column("cast", Kind.WHOLE, _CAST, lambda of: of[0]),
        Column("step", Kind.WHOLE, N_("place of the step in the cast, from 0"), lambda of: of[1].step),
        Column("ingredient", Kind.TEXT, N_("what was weighed"), lambda of: of[1].ingredient),
        Column("cup", Kind.TEXT, N_("the cup it was weighed into"), lambda of: of[1].cup),
        Column("target_mg", Kind.MASS, N_("what this weighing aimed at"), lambda of: of[1].target.mg),
        Column("low_mg", Kind.MASS, N_("lower edge of the band"), lambda of: of[1].low.mg),
        Column("high_mg", Kind.MASS, N_("upper edge of the band"), lambda of: of[1].high.mg),
        Column("net_mg", Kind.MASS, N_("net mass accepted"), lambda of: of[1].net.mg),
        Column("gross_mg", Kind.MASS, N_("gross mass on the pan at its end"), lambda of: of[1].gross.mg),
        Column("at", Kind.TIME, N_("when it was accepted"), lambda of: of[1].at.wall),
        Column("at_sure", Kind.FLAG, _SURE, lambda of: of[1].at.sure),
        Column("reopened", Kind.FLAG, N_("more came afterwards, and a later line counts"), lambda of: of[1].reopened),
    ),
)

ALARMS: Final[Table[tuple[int, AlarmRecord]]] = Table(
    "alarms",
    N_("One line for each alarm that sounded."),
    _with_number("alarms"),
    (
        Column("cast", Kind.WHOLE, _CAST, lambda of: of[0]),
        Column("clock", Kind.WORD, N_("the clock that was due"), lambda of: of[1].clock.value),
        Column("raised", Kind.TIME, N_("when it began to sound"), lambda of: of[1].raised.wall),
        Column("raised_sure", Kind.FLAG, _SURE, lambda of: of[1].raised.sure),
        Column("late_s", Kind.NUMBER, N_("seconds after it was due; empty when unknown"), lambda of: of[1].late_s),
        Column("why", Kind.TEXT, N_("what it was for"), lambda of: str(of[1].why)),
        Column(
            "silenced",
            Kind.TIME,
            N_("when it was answered; empty when nobody did"),
            lambda of: None if of[1].silenced is None else of[1].silenced.wall,
        ),
        Column("by", Kind.TEXT, N_("where it was answered; empty when by going on"), lambda of: of[1].by),
        Column("after_s", Kind.NUMBER, N_("seconds until it was answered"), lambda of: of[1].after_s),
        Column(
            "missed", Kind.TEXT, N_("why it counts as missed; empty when it does not"), lambda of: str(of[1].missed)
        ),
    ),
)

NOTES: Final[Table[tuple[int, str, RemarkRecord]]] = Table(
    "notes",
    N_("One line for each note, overshoot, interruption and press, and for each word about the part."),
    _notes,
    (
        Column("cast", Kind.WHOLE, _CAST, lambda of: of[0]),
        Column(
            "kind", Kind.WORD, N_("note, overshoot, interruption, press, or part for a word about it"), lambda of: of[1]
        ),
        Column("at", Kind.TIME, N_("when it was"), lambda of: of[2].at.wall),
        Column("at_sure", Kind.FLAG, _SURE, lambda of: of[2].at.sure),
        Column("words", Kind.TEXT, N_("what was noted or happened"), lambda of: str(of[2].words)),
        Column("by", Kind.TEXT, N_("the pedal, or a device"), lambda of: of[2].by),
    ),
)

DEFECTS: Final[Table[tuple[int, Defect]]] = Table(
    "defects",
    N_("One line for each defect of the latest verdict."),
    lambda told: () if told.record.part is None else ((told.record.number, one) for one in told.record.part.defects),
    (
        Column("cast", Kind.WHOLE, _CAST, lambda of: of[0]),
        Column("defect", Kind.WORD, N_("what is wrong"), lambda of: of[1].kind.value),
        Column("severity", Kind.WORD, N_("slight, clear, or spoils the part"), lambda of: of[1].severity.value),
        Column("place", Kind.TEXT, N_("where on the part"), lambda of: of[1].place),
    ),
)

HARDNESS: Final[Table[tuple[int, HardnessRecord]]] = Table(
    "hardness",
    N_("One line for each hardness reading that counts. Readings of different scales cannot be converted."),
    lambda told: () if told.record.part is None else ((told.record.number, one) for one in told.record.part.readings),
    (
        Column("cast", Kind.WHOLE, _CAST, lambda of: of[0]),
        Column("reading", Kind.WHOLE, N_("number of the reading at this station"), lambda of: of[1].reading),
        Column("scale", Kind.WORD, N_("scale of the durometer"), lambda of: of[1].scale.value),
        Column("value", Kind.NUMBER, N_("what it showed, 0 to 100"), lambda of: of[1].value),
        Column("place", Kind.TEXT, N_("where on the part"), lambda of: of[1].place),
        Column(
            "since_demold_s",
            Kind.NUMBER,
            N_("seconds since it was out of the mold; empty when unknown"),
            lambda of: of[1].since_demold_s,
        ),
        Column("at", Kind.TIME, N_("when it was read"), lambda of: of[1].at.wall),
        Column("at_sure", Kind.FLAG, _SURE, lambda of: of[1].at.sure),
    ),
)

LENGTHS: Final[Table[tuple[int, LengthsRecord]]] = Table(
    "lengths",
    N_("One line for each length that was measured in the mold and on the part."),
    lambda told: () if told.record.part is None else ((told.record.number, one) for one in told.record.part.lengths),
    (
        Column("cast", Kind.WHOLE, _CAST, lambda of: of[0]),
        Column("place", Kind.TEXT, N_("where it was measured"), lambda of: of[1].place),
        Column("mold_mm", Kind.NUMBER, N_("length in the mold, mm"), lambda of: of[1].lengths.mold_mm),
        Column("part_mm", Kind.NUMBER, N_("length on the part, mm"), lambda of: of[1].lengths.part_mm),
        Column("shrinkage_percent", Kind.NUMBER, N_("(mold - part) / mold × 100"), lambda of: of[1].shrinkage_percent),
    ),
)

PHOTOS: Final[Table[tuple[int, PhotoRecord]]] = Table(
    "photos",
    N_(
        "One line for each photo. An export of the whole log holds the pictures too, in the folder “photos”, unless it "
        "was made without; those that were removed or are damaged are left out."
    ),
    _with_number("photos"),
    (
        Column("cast", Kind.WHOLE, _CAST, lambda of: of[0]),
        Column("file", Kind.WORD, N_("its file in the folder “photos”"), lambda of: f"{of[1].name}.jpg"),
        Column("sha256", Kind.WORD, N_("SHA-256 of that file"), lambda of: of[1].digest),
        Column("wide_px", Kind.WHOLE, N_("its width in dots"), lambda of: of[1].wide),
        Column("high_px", Kind.WHOLE, N_("its height in dots"), lambda of: of[1].high),
        Column("caption", Kind.TEXT, N_("what it shows"), lambda of: of[1].caption),
        Column("added", Kind.TIME, N_("when it was added"), lambda of: of[1].added.at.wall),
        Column("added_sure", Kind.FLAG, _SURE, lambda of: of[1].added.at.sure),
        Column("added_by", Kind.TEXT, N_("by which device"), lambda of: of[1].added.by),
        Column("removed", Kind.FLAG, N_("not shown any more"), lambda of: of[1].removed is not None),
    ),
)

TABLES: Final[tuple[Table[Any], ...]] = (
    *(CASTS, INGREDIENTS, WEIGHINGS, ALARMS, NOTES),
    *(DEFECTS, HARDNESS, LENGTHS, PHOTOS),
)


def _mg(mass: Any) -> int | None:
    return None if mass is None else int(mass.mg)
