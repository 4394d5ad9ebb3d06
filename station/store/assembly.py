"""From a cast's journal entries to its batch record: what was planned, what was weighed, when, and what went wrong."""

from __future__ import annotations

from collections.abc import Sequence

from station.core import events as ev
from station.core.mass import ZERO
from station.core.material import Basis, Material
from station.core.plan import CastPlan
from station.core.steps import Mix
from station.core.time_events import GapKnown
from station.records import (
    AlarmRecord,
    BatchRecord,
    OutageRecord,
    RemarkRecord,
    Stage,
    WeighingRecord,
)
from station.store.amounts import Weighed, ingredients, ratio, total
from station.store.course import Course, course_of
from station.store.evidence import Walls
from station.store.judged import part_of
from station.store.photos import photos_of
from station.store.presses import presses
from station.texts import N_, Figure, Phrase


def batch_record(
    begun: ev.CastBegun,
    entries: Sequence[ev.Entry],
    *,
    around: Sequence[ev.Entry],
    alarms: Sequence[AlarmRecord],
    stage: Stage,
    walls: Walls,
) -> BatchRecord:
    """The record of one cast. `entries` are its own, `around` the station's own from its beginning to its last."""
    plan, course = begun.plan, course_of(entries)
    weighed = Weighed.of(entries)
    amounts = ingredients(plan, weighed)
    return BatchRecord(
        number=begun.number,
        material=plan.material.title,
        mold=plan.mold.title,
        way=plan.way.value,
        way_reason=plan.way_reason,
        begun_by=begun.by,
        stage=stage,
        ending=course.ending,
        planned_total=plan.total,
        left_in_cup=next((one.event.residue for one in entries if isinstance(one.event, ev.MixCupWeighed)), None),
        actual_total=total(amounts),
        readability=plan.scale.readability,
        sheet_ratio=sheet_ratio(plan.material),
        ingredients=amounts,
        weighings=tuple(
            WeighingRecord(
                step=one.taken.step,
                ingredient=one.taken.ingredient,
                cup=one.taken.cup,
                target=one.taken.target,
                low=one.taken.low,
                high=one.taken.high,
                net=one.taken.net,
                at=walls.shown(one.at),
                reopened=one.reopened,
                gross=one.taken.gross,
            )
            for one in weighed.pours
        ),
        ratio=ratio(plan, amounts),
        course=course.shown(walls),
        pot_life_s=plan.limit_s,
        temperatures_c=_temperatures(plan, around),
        humidities_percent=_humidities(plan, around),
        alarms=tuple(alarms),
        missed=_missed(course, alarms, walls),
        overshoots=_overshoots(entries, walls),
        interruptions=_interruptions(entries, walls),
        outages=_outages(around, walls),
        remarks=tuple(
            RemarkRecord(walls.shown(entry.at), entry.event.text, entry.event.by)
            for entry in entries
            if isinstance(entry.event, ev.Noted)
        ),
        plan_notes=(*plan.warnings, *plan.notes),
        presses=presses(course.steps, entries, walls),
        photos=photos_of(entries, walls),
        part=part_of(begun.plan, entries, course.demolded, stage, walls),
    )


def sheet_ratio(material: Material) -> Phrase:
    """The mix ratio as its sheet says it, with its basis: never a bare number."""
    shares = [Phrase("{name} {parts}", name=one.name, parts=Figure(f"{one.parts:g}")) for one in material.components]
    ratio, basis = _listed(shares, " : "), Phrase(material.basis.value)
    dense = [
        Phrase("{name} {density} g/cm³", name=one.name, density=Figure(f"{one.density:g}"))
        for one in material.components
        if one.density is not None
    ]
    if material.basis is Basis.VOLUME and dense:
        return Phrase("{ratio} {basis} ({dense})", ratio=ratio, basis=basis, dense=_listed(dense, ", "))
    return Phrase("{ratio} {basis}", ratio=ratio, basis=basis)


def _listed(phrases: Sequence[Phrase], mark: str) -> Phrase:
    """Some phrases with a mark between them."""
    places = {f"p{place}": phrase for place, phrase in enumerate(phrases)}
    return Phrase(mark.join(f"{{{place}}}" for place in places), **places)


def _temperatures(plan: CastPlan, around: Sequence[ev.Entry]) -> tuple[float, ...]:
    noted = [entry.event.celsius for entry in around if isinstance(entry.event, ev.TemperatureNoted)]
    return tuple(celsius for celsius in (plan.temperature_c, *noted) if celsius is not None)


def _humidities(plan: CastPlan, around: Sequence[ev.Entry]) -> tuple[float, ...]:
    noted = [entry.event.percent for entry in around if isinstance(entry.event, ev.HumidityNoted)]
    return tuple(percent for percent in (plan.humidity_percent, *noted) if percent is not None)


def _missed(course: Course, alarms: Sequence[AlarmRecord], walls: Walls) -> tuple[str, ...]:
    missed = [
        Phrase(N_("{clock}: {missed}"), clock=Phrase(alarm.clock.value), missed=alarm.missed)
        for alarm in alarms
        if alarm.missed
    ]
    if course.mix_short:
        mixed_s = walls.span_s(course.mix_started, course.mixed)
        least_s = next((step.seconds for step in course.steps if isinstance(step, Mix)), None)
        missed.append(_cut_short(mixed_s, least_s))
    return tuple(missed)


def _cut_short(mixed_s: float | None, least_s: float | None) -> Phrase:
    """That mixing ended before its time; after how many seconds, of how many, as far as that is known."""
    if mixed_s is None and least_s is None:
        return Phrase(N_("mix: cut short"))
    if least_s is None:
        return Phrase(N_("mix: cut short after {mixed} s"), mixed=f"{mixed_s:.0f}")
    if mixed_s is None:
        return Phrase(N_("mix: cut short, at least {least} s were asked for"), least=f"{least_s:.0f}")
    text = N_("mix: cut short after {mixed} s, at least {least} s were asked for")
    return Phrase(text, mixed=f"{mixed_s:.0f}", least=f"{least_s:.0f}")


def _overshoots(entries: Sequence[ev.Entry], walls: Walls) -> tuple[RemarkRecord, ...]:
    found: list[RemarkRecord] = []
    for entry in entries:
        match entry.event:
            case ev.Recomputed(words=words, over=over) if over > ZERO:
                found.append(RemarkRecord(walls.shown(entry.at), words))
            case ev.Reopened(ingredient=ingredient):
                more = Phrase(N_("More {ingredient} came after it was accepted."), ingredient=ingredient)
                found.append(RemarkRecord(walls.shown(entry.at), more))
            case _:
                pass
    return tuple(found)


def _interruptions(entries: Sequence[ev.Entry], walls: Walls) -> tuple[RemarkRecord, ...]:
    found: list[RemarkRecord] = []
    for entry in entries:
        match entry.event:
            case ev.Paused(by=by):
                found.append(RemarkRecord(walls.shown(entry.at), Phrase(N_("paused")), by))
            case ev.Resumed(by=by):
                found.append(RemarkRecord(walls.shown(entry.at), Phrase(N_("went on")), by))
            case _:
                pass
    return tuple(found)


def _outages(around: Sequence[ev.Entry], walls: Walls) -> tuple[OutageRecord, ...]:
    found: list[OutageRecord] = []
    told = {e.event.boot_id: e.event.off_s for e in around if isinstance(e.event, GapKnown)}
    for entry in around:
        if isinstance(entry.event, ev.StationStarted):
            seen = entry.event.last_seen
            gap = walls.span_s(seen, entry.at)
            if gap is None and seen is not None:
                gap = told.get(entry.at.boot_id)
            found.append(OutageRecord(None if seen is None else walls.shown(seen), walls.shown(entry.at), gap))
    return tuple(found)
