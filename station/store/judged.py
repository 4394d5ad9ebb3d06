"""From a cast's journal entries to what is known of its part: the latest words count, all of them are told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

from station.casting.part import Lengths, hardness, molded_density, packing_factor
from station.core import events as ev
from station.core.mass import Mass
from station.core.moment import Moment
from station.core.plan import CastPlan
from station.part_records import HardnessOf, HardnessRecord, LengthsRecord, PartRecord
from station.records import Stage
from station.remarks import RemarkRecord
from station.store.evidence import Walls
from station.store.judged_words import words_of

TOGETHER_S: Final = 2 * 3600.0
"""Readings further apart are of two series. Common practice, no source: in two hours a part hardly changes."""


@dataclass(slots=True)
class _Known:
    """What counts so far, while the entries are gone through."""

    weighed: ev.PartWeighed | None = None
    readings: dict[int, tuple[ev.HardnessRead, Moment]] = field(default_factory=dict)
    lengths: dict[str, Lengths] = field(default_factory=dict)
    judged: ev.Judged | None = None
    waived: str = ""

    def hear(self, event: ev.JudgingEvent, at: Moment) -> None:
        match event:
            case ev.PartWeighed():
                self.weighed = event
            case ev.PartMassWithdrawn():
                self.weighed = None
            case ev.HardnessRead(reading=reading):
                self.readings[reading] = (event, at)
            case ev.HardnessWithdrawn(reading=reading):
                self.readings.pop(reading, None)
            case ev.ShrinkageMeasured(place=place, mold_mm=mold, part_mm=part):
                self.lengths[place] = Lengths(mold, part)
            case ev.ShrinkageWithdrawn(place=place):
                self.lengths.pop(place, None)
            case ev.Judged():
                self.judged, self.waived = event, ""
            case ev.VerdictWithdrawn():
                self.judged = None
            case ev.JudgingWaived(reason=reason):
                self.waived = reason


def part_of(
    plan: CastPlan, entries: Sequence[ev.Entry], demolded: Moment | None, stage: Stage, walls: Walls
) -> PartRecord | None:
    """The part of a cast with these entries; None while it is in its mold and nothing was said of it."""
    known, told = _Known(), []
    for entry in entries:
        if isinstance(entry.event, ev.JudgingEvent):
            known.hear(entry.event, entry.at)
            told.append(RemarkRecord(walls.shown(entry.at), words_of(entry.event, plan), entry.event.by))
    if demolded is None and not told:
        return None
    mass = None if known.weighed is None else known.weighed.mass
    cavity, foam = plan.mold.cavity_cm3, plan.material.foam
    free_rise = None if foam is None else foam.free_rise_density
    density = _density(mass, cavity)
    readings = tuple(_reading(read, at, demolded, walls) for read, at in known.readings.values())
    judged = known.judged
    return PartRecord(
        mass=mass,
        trimmed=known.weighed is not None and known.weighed.trimmed,
        cavity_cm3=cavity,
        free_rise=free_rise,
        density=density,
        packing=None if density is None or not free_rise else packing_factor(density, free_rise),
        readings=readings,
        hardness=_series(readings),
        sheet_hardness=plan.material.hardness,
        lengths=tuple(LengthsRecord(place, one, one.shrinkage_percent) for place, one in known.lengths.items()),
        verdict=None if judged is None else judged.verdict,
        defects=() if judged is None else judged.defects,
        note="" if judged is None else judged.note,
        waived=known.waived,
        waits=stage is Stage.DEMOLDED and judged is None and not known.waived,
        told=tuple(told),
    )


def _density(mass: Mass | None, cavity_cm3: float | None) -> float | None:
    return None if mass is None or not cavity_cm3 else molded_density(mass.g, cavity_cm3)


def _reading(read: ev.HardnessRead, at: Moment, demolded: Moment | None, walls: Walls) -> HardnessRecord:
    since = read.since_demold_s
    if since is None:
        since = walls.span_s(demolded, at)
    return HardnessRecord(read.reading, read.scale, read.value, read.place, since, walls.shown(at))


def _series(readings: Sequence[HardnessRecord]) -> tuple[HardnessOf, ...]:
    """Readings of one scale and about one time together; those of two scales cannot be compared."""
    sorted_ = sorted(readings, key=lambda one: (one.scale.value, _s(one.since_demold_s)))
    series: list[list[HardnessRecord]] = []
    for one in sorted_:
        last = series[-1] if series else []
        same = last and last[0].scale is one.scale
        if same and _s(one.since_demold_s) - _s(last[0].since_demold_s) <= TOGETHER_S:
            last.append(one)
        else:
            series.append([one])
    return tuple(_of(some) for some in series)


def _s(since_demold_s: float | None) -> float:
    """Readings of an unknown time stand together, before the others."""
    return -TOGETHER_S * 10 if since_demold_s is None else since_demold_s


def _of(some: Sequence[HardnessRecord]) -> HardnessOf:
    values = [one.value for one in some]
    return HardnessOf(some[0].scale, some[0].since_demold_s, hardness(values), min(values), max(values), len(values))
