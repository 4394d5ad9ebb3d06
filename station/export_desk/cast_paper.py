"""The batch record of one cast as a sheet of paper: the words of its page, its drawings, photos and cautions."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Final

from station.address.code import rows
from station.errors import Fault
from station.export.form import Told
from station.paper.record_pdf import write_records
from station.paper.sheet import Amount, Course, Section, Sheet, Shown
from station.phone.cast_pictures import Traces, part_of_tolerance, pour_title, pouring, tolerance_picture
from station.phone.cast_view import CastView, LineView, PartView, cast_view
from station.records import BatchRecord, IngredientRecord
from station.store.photos import files_of, is_whole
from station.texts import t

_MOST_PHOTOS: Final = 12
"""More than this say nothing more on paper; the page has them all."""


@dataclass(frozen=True, slots=True)
class Shop:
    """What goes onto each sheet besides the cast: the station's name, its address ("": none), its photos."""

    name: str
    address: str
    photos: Path

    def page_of(self, number: int) -> str:
        """The address of a cast's page; empty when the station has none."""
        return f"{self.address}log/{number}" if self.address else ""


def write_casts(casts: Iterable[Told], traces: Traces, shop: Shop, out: IO[bytes]) -> None:
    """Write the records of some casts as PDF, each from a new page on."""
    write_records((cast_sheet(told, traces, shop) for told in casts), out)


def cast_sheet(told: Told, traces: Traces, shop: Shop) -> Sheet:
    """What the paper says of a cast."""
    record, view = told.record, cast_view(told.record, traces)
    url = shop.page_of(record.number)
    courses, cast = _courses(record, traces), t("Cast {number}", number=record.number)
    return Sheet(
        number=record.number,
        title=t("Cast {number}: {mold}", number=view.number, mold=view.mold),
        subtitle=f"{view.material}, {view.day}",
        state=f"{view.stage}: {view.ending}" if view.ending else view.stage,
        warnings=tuple(t("Missed: {what}", what=one) for one in view.missed),
        headings=(t("Part"), t("Planned"), t("Weighed"), t("Of its tolerance"), t("Lot")),
        amounts=tuple(_amount(part, one) for part, one in zip(view.parts, record.ingredients, strict=True)),
        beside=(Section(t("Facts"), view.facts), Section(t("Times"), _lines(view.course))),
        below=tuple(_below(view)),
        courses=Section(t("How it was poured"), ()) if courses else None,
        traces=courses,
        photos_title=t("Photos"),
        photos=_photos(record, shop.photos),
        cautions=_cautions(told),
        foot=f"{shop.name} · {cast}",
        url=url,
        code=rows(url) if url else (),
    )


def _amount(part: PartView, one: IngredientRecord) -> Amount:
    where = None
    if one.actual is not None and one.target is not None and one.low is not None and one.high is not None:
        lies = part_of_tolerance(one.actual, one.target, one.low, one.high)
        where = None if lies is None else tolerance_picture(lies, part.off)
    told: tuple[str, ...] = ()
    if part.actual:
        inside = t("in the band") if part.inside else t("outside the band")
        told = (f"{inside}, {part.off}" if part.off else inside, part.window, *filter(None, (part.in_mix,)))
    return Amount(part.name, part.planned, part.actual or t("nothing yet"), where, told, part.lot or t("not named"))


def _below(view: CastView) -> Sequence[Section]:
    sections = (
        (t("What was said of the part"), view.said),
        (t("Alarms"), view.alarms),
        (t("Notes"), view.remarks),
        (t("What came between"), view.events),
        (t("Who pressed"), view.presses),
    )
    found = [Section(t("Part"), view.part)] if view.part else []
    found += [Section(title, _lines(lines)) for title, lines in sections if lines]
    if view.notes:
        found.append(Section(t("Notes of the plan"), tuple((words,) for words in view.notes)))
    return found


def _lines(lines: Sequence[LineView]) -> tuple[tuple[str, ...], ...]:
    return tuple((one.at, one.words, one.more) for one in lines)


def _courses(record: BatchRecord, traces: Traces) -> tuple[Course, ...]:
    found: list[Course] = []
    for one in record.weighings:
        if one.reopened:
            continue
        try:
            trace = traces.trace(record.number, one.step)
        except Fault as why:
            found.append(Course(pour_title(one), None, (why.sentence(),)))
            continue
        drawn = None if trace is None else pouring(one, trace, record.readability)
        if drawn is not None:
            found.append(Course(pour_title(one), drawn.picture, drawn.moments))
    return tuple(found)


def _photos(record: BatchRecord, folder: Path) -> tuple[Shown, ...]:
    """The small ones that are as they were added: a damaged file must not keep a record from being printed."""
    shown = [one for one in record.photos if one.removed is None][:_MOST_PHOTOS]
    files = [(one, files_of(folder, one.name).small) for one in shown]
    return tuple(Shown(file, one.caption) for one, file in files if is_whole(file, one.small))


def _cautions(told: Told) -> Section | None:
    said = (*told.plan.material.cautions, *told.plan.mold.cautions)
    if not said:
        return None
    sheet = t("The safety data sheet of each component counts; this record does not take its place.")
    return Section(t("Cautions"), tuple((words,) for words in (*said, sheet)))
