"""The part of the fold that knows parts out of their molds: which are to be weighed, judged, or read at full cure."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import assert_never

from station.core.cast_events import Aborted, AlarmRaised, AlarmWithdrawn, BatchLost, Demolded
from station.core.clocks import AlarmState, ClockKind
from station.core.events import BatchEvent
from station.core.judging_events import (
    HardnessRead,
    HardnessWithdrawn,
    Judged,
    JudgingEvent,
    JudgingWaived,
    PartMassWithdrawn,
    PartWeighed,
    ShrinkageMeasured,
    ShrinkageWithdrawn,
    VerdictWithdrawn,
)
from station.core.judging_standing import PARTS_KEPT, Part
from station.core.mass import ZERO
from station.core.moment import Moment
from station.core.standing import Cast, Standing


def with_part(standing: Standing, cast: Cast, event: BatchEvent, at: Moment) -> Standing:
    """The state once this has happened to a cast, which stood as `cast` before: what it means for its part."""
    match event:
        case Demolded():
            return _out_of_mold(standing, cast, at)
        case AlarmRaised(number=number, clock=ClockKind.FULL_CURE):
            return _cured(standing, number, at)
        case AlarmWithdrawn(number=number, clock=ClockKind.FULL_CURE):
            return _cured(standing, number, None)
        case Aborted(number=number) | BatchLost(number=number):
            return _forgotten(standing, number)
        case _:
            return standing


def judged(standing: Standing, event: JudgingEvent) -> Standing:
    """The state once this is known of a part. Of one that the bench has forgotten only the record is told."""
    match event:
        case PartWeighed(number=number, mass=mass, trimmed=trimmed):
            return _changed(standing, number, lambda part: replace(part, mass=mass, trimmed=trimmed))
        case PartMassWithdrawn(number=number):
            return _changed(standing, number, lambda part: replace(part, mass=None, trimmed=False))
        case HardnessRead(number=number, reading=reading):
            standing = replace(standing, last_reading=max(standing.last_reading, reading))
            return _changed(standing, number, _read)
        case Judged(number=number, verdict=verdict):
            return _changed(standing, number, lambda part: replace(part, verdict=verdict))
        case VerdictWithdrawn(number=number):
            return _changed(standing, number, lambda part: replace(part, verdict=None))
        case JudgingWaived(number=number):
            return _forgotten(standing, number)
        case HardnessWithdrawn() | ShrinkageMeasured() | ShrinkageWithdrawn():
            return standing
        case _:
            assert_never(event)


def _out_of_mold(standing: Standing, cast: Cast, at: Moment) -> Standing:
    """The part of `cast`, as it stood before, is in somebody's hands and waits to be judged."""
    clock, foam = cast.clock(ClockKind.FULL_CURE), cast.plan.material.foam
    fell_due = clock is not None and clock.state in (AlarmState.SOUNDING, AlarmState.ACKNOWLEDGED)
    part = Part(
        number=cast.number,
        mold=cast.plan.mold.title,
        material=cast.plan.material.title,
        demolded=at,
        mixed=sum((taken.net for taken in cast.accepted), start=ZERO),
        cavity_cm3=cast.plan.mold.cavity_cm3,
        free_rise=None if foam is None else foam.free_rise_density,
        hardness=cast.plan.material.hardness,
        cures=clock is not None and clock.state is AlarmState.WAITING,
        scale=cast.plan.scale,
        cured=at if fell_due else None,
    )
    others = tuple(other for other in standing.parts if other.number != part.number)
    return replace(standing, parts=(*others, part)[-PARTS_KEPT:])


def _cured(standing: Standing, number: int, at: Moment | None) -> Standing:
    """The full cure of this cast is over since `at`; None: it turned out not to be."""
    return _changed(standing, number, lambda part: replace(part, cures=at is None, cured=at))


def _forgotten(standing: Standing, number: int) -> Standing:
    """Nobody is asked about this part any more."""
    return replace(standing, parts=tuple(part for part in standing.parts if part.number != number))


def _read(part: Part) -> Part:
    return replace(part, early=True) if part.cured is None else replace(part, late=True)


def _changed(standing: Standing, number: int, change: Callable[[Part], Part]) -> Standing:
    parts = tuple(change(part) if part.number == number else part for part in standing.parts)
    return replace(standing, parts=tuple(part for part in parts if not part.over))
