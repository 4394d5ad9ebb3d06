"""What was said of a part, each word as a line of its record: English as a string, said where it is shown."""

from __future__ import annotations

from typing import assert_never

from station.core import events as ev
from station.core.judging_events import Defect
from station.core.mass import Mass
from station.core.plan import CastPlan
from station.texts import N_, Figure, Phrase


def words_of(event: ev.JudgingEvent, plan: CastPlan) -> str:
    """One word about the part of a cast with this plan."""
    match event:
        case ev.PartWeighed(mass=mass, trimmed=trimmed):
            how = Phrase(N_("trimmed") if trimmed else N_("as it came out"))
            return Phrase(N_("weighs {mass} g, {how}"), mass=_figure(mass, plan.scale.readability), how=how)
        case ev.PartMassWithdrawn():
            return Phrase(N_("its mass was taken back"))
        case ev.HardnessRead(reading=reading, scale=scale, value=value, place=place):
            figure = Figure(f"{value:g}")
            text = N_("hardness reading {reading}: {value} {scale}")
            return _at(Phrase(text, reading=str(reading), value=figure, scale=scale.value), place)
        case ev.HardnessWithdrawn(reading=reading):
            return Phrase(N_("hardness reading {reading} was taken back"), reading=str(reading))
        case ev.ShrinkageMeasured(mold_mm=mold, part_mm=part, place=place):
            text = N_("{part} mm where the mold has {mold} mm")
            return _at(Phrase(text, part=Figure(f"{part:g}"), mold=Figure(f"{mold:g}")), place)
        case ev.ShrinkageWithdrawn(place=place):
            return _at(Phrase(N_("the lengths were taken back")), place)
        case ev.Judged(verdict=verdict, defects=defects, note=note):
            words = [Phrase(verdict.value), *map(_defect, defects), *([note] if note else [])]
            return Phrase(N_("judged: {words}"), words=_listed(words))
        case ev.VerdictWithdrawn():
            return Phrase(N_("the verdict was taken back"))
        case ev.JudgingWaived(reason=reason):
            return Phrase(N_("nobody will judge it: {reason}"), reason=reason)
        case _:
            assert_never(event)


def _at(words: Phrase, place: str) -> Phrase:
    """With the place on the part, where somebody named one."""
    return Phrase("{words} ({place})", words=words, place=place) if place else words


def _defect(one: Defect) -> Phrase:
    words = Phrase("{kind} ({severity})", kind=Phrase(one.kind.value), severity=Phrase(one.severity.value))
    return Phrase("{defect}, {place}", defect=words, place=one.place) if one.place else words


def _listed(words: list[str]) -> Phrase:
    places = {f"p{place}": word for place, word in enumerate(words)}
    return Phrase("; ".join(f"{{{place}}}" for place in places), **places)


def _figure(mass: Mass, step: Mass) -> Figure:
    digits = next((n for n in range(4) if step.mg > 0 and step.mg % 10 ** (3 - n) == 0), 3)
    return Figure(f"{mass.g:.{digits}f}")
