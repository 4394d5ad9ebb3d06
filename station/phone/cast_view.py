"""One cast as its sheet shows it: words and pictures out of the batch record."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from markupsafe import Markup

from station.core.mass import Mass
from station.core.spans import about
from station.drawing.svg import svg
from station.part_words import part_facts
from station.phone.cast_pictures import Traces, part_of_tolerance, tolerance_picture
from station.phone.cast_traces import TraceView, trace_views
from station.phone.photo_view import PhotoView, photo_views
from station.phone.words import day_text, mass_text
from station.records import AlarmRecord, BatchRecord, IngredientRecord, RemarkRecord, Stage, When
from station.texts import number, said, t


@dataclass(frozen=True, slots=True)
class PartView:
    """One component or additive. `picture` is empty as long as nothing of it was accepted."""

    name: str
    lot: str
    planned: str
    actual: str
    window: str
    off: str
    inside: bool
    picture: Markup
    in_mix: str


@dataclass(frozen=True, slots=True)
class LineView:
    """Something that happened: when, what, and by whom or how much."""

    at: str
    words: str
    more: str = ""


@dataclass(frozen=True, slots=True)
class CastView:
    """The sheet of one cast. `facts` are pairs of a label and its words."""

    number: int
    mold: str
    material: str
    day: str
    stage: str
    stage_name: str
    ending: str
    facts: tuple[tuple[str, str], ...]
    parts: tuple[PartView, ...]
    course: tuple[LineView, ...]
    alarms: tuple[LineView, ...]
    presses: tuple[LineView, ...]
    events: tuple[LineView, ...]
    remarks: tuple[LineView, ...]
    notes: tuple[str, ...]
    missed: tuple[str, ...]
    traces: tuple[TraceView, ...]
    part: tuple[tuple[str, str], ...]
    said: tuple[LineView, ...]
    photos: tuple[PhotoView, ...]
    removed: int
    may_end: bool
    may_demold: bool
    may_judge: bool


def cast_view(record: BatchRecord, log: Traces) -> CastView:
    """The sheet of a record; `log` has its traces."""
    course = record.course
    return CastView(
        number=record.number,
        mold=record.mold,
        material=record.material,
        day=_day(course.begun),
        stage=t(record.stage.value),
        stage_name=record.stage.name,
        ending=said(record.ending),
        facts=_facts(record),
        parts=tuple(_part(one, record.readability) for one in record.ingredients),
        course=_course(record),
        alarms=tuple(_alarm(one, course.begun) for one in record.alarms),
        presses=_lines(record.presses, course.begun),
        events=_lines((*record.overshoots, *record.interruptions), course.begun)
        + tuple(
            LineView(_at(cut.back, course.begun), t("the station was back"), _off(cut.seconds))
            for cut in record.outages
        ),
        remarks=_lines(record.remarks, course.begun),
        notes=record.plan_notes,
        missed=tuple(said(one) for one in record.missed),
        traces=trace_views(record, log),
        part=() if record.part is None else part_facts(record.part, record.readability),
        said=() if record.part is None else _lines(record.part.told, course.begun),
        photos=photo_views(record.number, record.photos),
        removed=sum(one.removed is not None for one in record.photos),
        may_end=record.stage.open,
        may_judge=record.stage is Stage.DEMOLDED,
        may_demold=record.stage.open and course.poured is not None,
    )


def _facts(record: BatchRecord) -> tuple[tuple[str, str], ...]:
    d = record.readability
    mixed = [one for one in record.ratio if one.actual is not None]
    facts = [
        (t("Begun by"), t(record.begun_by)),
        (
            t("Mix"),
            t(
                "{actual_total}, planned {planned_total}",
                actual_total=mass_text(record.actual_total, d),
                planned_total=mass_text(record.planned_total, d),
            ),
        ),
        (t("Way"), t(record.way)),
        (t("Ratio of the sheet"), said(record.sheet_ratio)),
    ]
    if len(mixed) == len(record.ratio) > 0:
        told = " : ".join(f"{one.component} {number(one.actual or 0.0, '.2f')}" for one in mixed)
        errors = ", ".join(f"{one.component} {_signed(one.error_percent or 0.0, 2)} %" for one in mixed[1:])
        ratio = t("{ratio} (off by {errors})", ratio=told, errors=errors) if errors else told
        facts.append((t("Ratio mixed, by weight"), ratio))
    if record.left_in_cup is not None:
        facts.append((t("Left in the cup"), mass_text(record.left_in_cup, d)))
    if record.temperatures_c:
        facts.append((t("Temperature"), _between(min(record.temperatures_c), max(record.temperatures_c))))
    if record.humidities_percent:
        least, most = number(min(record.humidities_percent), ".0f"), number(max(record.humidities_percent), ".0f")
        told = f"{least} %" if least == most else t("{least} to {most} %", least=least, most=most)
        facts.append((t("Humidity of the air"), told))
    return tuple(facts)


def _between(low: float, high: float) -> str:
    least, most = number(low, ".1f"), number(high, ".1f")
    return f"{least} °C" if least == most else t("{least} to {most} °C", least=least, most=most)


def _part(one: IngredientRecord, d: Mass) -> PartView:
    none = PartView(one.ingredient, one.lot, mass_text(one.planned, d), "", "", "", False, Markup(""), "")
    if one.actual is None or one.target is None or one.low is None or one.high is None:
        return none
    part = part_of_tolerance(one.actual, one.target, one.low, one.high)
    inside = one.low <= one.actual <= one.high
    off = "" if part is None else t("{part} % of what is allowed", part=_signed(part * 100, 0))
    word = t("in the band") if inside else t("outside the band")
    picture = Markup("")
    if part is not None:
        picture = Markup(svg(tolerance_picture(part, f"{one.ingredient}: {off}, {word}.")))
    moved = one.in_mix is not None and one.in_mix != one.actual
    return PartView(
        name=one.ingredient,
        lot=one.lot,
        planned=mass_text(one.planned, d),
        actual=mass_text(one.actual, d),
        window=t("{low} to {high}", low=mass_text(one.low, d), high=mass_text(one.high, d)),
        off=off,
        inside=inside,
        picture=picture,
        in_mix=t("{in_mix} in the mix: {in_mix_by}", in_mix=mass_text(one.in_mix, d), in_mix_by=said(one.in_mix_by))
        if moved and one.in_mix is not None
        else "",
    )


def _course(record: BatchRecord) -> tuple[LineView, ...]:
    course = record.course
    rows = (
        (t("begun"), course.begun, ""),
        (t("first contact"), course.contact, ""),
        (t("mixing"), course.mix_started, ""),
        (t("mixed"), course.mixed, t("{time} of mixing", time=_span(course.mix_s))),
        (
            t("poured"),
            course.poured,
            t(
                "{time} after first contact, pot life {pot_life}",
                time=_span(course.contact_to_poured_s),
                pot_life=about(record.pot_life_s),
            ),
        ),
        (t("closed"), course.closed, t("{time} after first contact", time=_span(course.contact_to_closed_s))),
        (t("out of the mold"), course.demolded, t("{time} after the pour", time=_span(course.poured_to_demolded_s))),
    )
    return tuple(LineView(_at(at, course.begun), label, more) for label, at, more in rows if at is not None)


def _alarm(one: AlarmRecord, begun: When) -> LineView:
    if one.silenced is None:
        more = t("not answered")
    elif one.by:
        more = t("heard by {by} {time} later", by=t(one.by), time=_span(one.after_s))
    else:
        more = t("ended by going on")
    words = t(one.clock.value)
    if one.late_s is not None and one.late_s >= 1:
        words = t("{clock}, {time} late", clock=words, time=about(one.late_s))
    return LineView(_at(one.raised, begun), words, more)


def _lines(remarks: Iterable[RemarkRecord], begun: When) -> tuple[LineView, ...]:
    return tuple(LineView(_at(one.at, begun), said(one.words), t(one.by)) for one in remarks)


def _span(seconds: float | None) -> str:
    return t("unknown time") if seconds is None else about(seconds)


def _off(seconds: float | None) -> str:
    return t("after an unknown time") if seconds is None else t("after {seconds}", seconds=about(seconds))


def _signed(value: float, digits: int) -> str:
    """With its sign, a real minus, and no negative zero."""
    return number(round(value, digits) + 0.0, f"+.{digits}f").replace("-", "\N{MINUS SIGN}")


def _day(at: When) -> str:
    return day_text(at.wall) if at.sure else t("{day} (clock not set)", day=day_text(at.wall))


def _at(at: When, begun: When) -> str:
    """The time of day, with the day when it is another than that of the beginning."""
    here, first = at.wall.astimezone(), begun.wall.astimezone()
    told = f"{here:%H:%M:%S}" if here.date() == first.date() else f"{here:%Y-%m-%d %H:%M:%S}"
    return told if at.sure else t("{day} (clock not set)", day=told)
