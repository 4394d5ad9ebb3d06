"""Fold: one journal entry at a time onto the durable state. Nothing else changes that state, live or in a replay."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import assert_never

from station.casting.loss import Emptied
from station.core import events as ev
from station.core.clocks import AlarmState, Clock, ClockKind
from station.core.drive import rate_of
from station.core.judging_fold import judged, with_part
from station.core.known_pours import pours_after
from station.core.learning_fold import learned_after
from station.core.mass import ZERO, Mass
from station.core.mold_care import care_after, poured
from station.core.moment import Moment
from station.core.queue_fold import queue_after
from station.core.standing import Cast, ClingLesson, CupOnFile, Ending, LotUse, Standing
from station.core.steps import Combine, Mix, PlaceCup, Pour
from station.core.time_events import GapKnown, TimeHeard, TimeTold
from station.core.time_fold import each_clock, learned, noted, started
from station.core.timing import carried_into, carried_over, new_clock, settled

LESSONS_KEPT = 200


def replayed(entries: Iterable[ev.Entry], standing: Standing | None = None) -> Standing:
    """The state after all these entries, beginning from `standing` or from nothing."""
    standing = standing or Standing()
    for entry in entries:
        standing = apply(standing, entry)
    return standing


def apply(standing: Standing, entry: ev.Entry) -> Standing:
    """The state after one more entry."""
    event, at = entry.event, entry.at
    standing = noted(standing, at)
    match event:
        case ev.StationStarted(last_seen=seen):
            standing = started(standing, seen, at)
            return each_clock(standing, lambda cast, clock: _over_the_gap(standing, cast, clock, seen, at))
        case TimeHeard() | TimeTold() | GapKnown():
            return learned(standing, event, at)
        case ev.TemperatureNoted(celsius=celsius):
            standing = each_clock(standing, lambda cast, clock: _settled(standing, cast, clock, at))
            return replace(standing, temperature_c=celsius)
        case ev.HumidityNoted(percent=percent):
            return replace(standing, humidity_percent=percent)
        case ev.RecordRestored():
            return replace(standing, restored=event)
        case ev.RestoringSeen():
            return replace(standing, restored=None)
        case ev.LotCounted(lot=lot, left=left):
            return standing.with_use(LotUse(lot, ZERO, left))
        case ev.CastQueued() | ev.QueueMoved() | ev.QueueTaken() | ev.QueueDropped():
            return queue_after(standing, event)
        case ev.ReleaseApplied() | ev.MoldRetired() | ev.MoldReturned():
            return replace(standing, molds=care_after(standing.molds, event))
        case ev.PourLearned() | ev.PoursForgotten():
            return replace(standing, pours=pours_after(standing.pours, event))
        case _ if isinstance(event, ev.LearningEvent):
            return learned_after(standing, event)
        case ev.CastBegun(number=number, plan=plan):
            cast = Cast(number, plan, at, plan.steps, 0, at)
            return replace(standing, last_number=number, casts=(*standing.casts, cast))
        case _ if isinstance(event, ev.JudgingEvent):
            return judged(standing, event)
        case _:
            return _apply_to_cast(standing, event, at)


def _apply_to_cast(standing: Standing, event: ev.BatchEvent, at: Moment) -> Standing:
    cast = standing.cast(event.number)
    if cast is None:
        return standing
    after = _cast_after(standing, cast, event, at)
    others = tuple(after if other.number == cast.number else other for other in standing.casts)
    standing = replace(standing, casts=tuple(other for other in others if not other.finished))
    match event:
        case ev.Accepted(ingredient=ingredient, net=net):
            return _lot_used(standing, cast, ingredient, net)
        case ev.StepDone(step=step) if isinstance(cast.steps[step], Pour):
            return replace(standing, molds=poured(standing.molds, cast.plan.mold.key))
        case ev.Reopened(ingredient=ingredient):
            return _lot_used(standing, cast, ingredient, -cast.accepted[-1].net)
        case ev.EmptiedCupWeighed(ingredient=ingredient, residue=residue, held=held) if held.mg > 0:
            lesson = ClingLesson(cast.plan.material.key, ingredient, residue.mg / held.mg * 100)
            return replace(standing, lessons=(*standing.lessons, lesson)[-LESSONS_KEPT:])
        case ev.MixCupWeighed(residue=residue, mixed=mixed, capacity=capacity) if mixed.mg > 0:
            loss = Emptied(capacity.g, residue.mg / mixed.mg * 100)
            return replace(standing, losses=(*standing.losses, loss)[-LESSONS_KEPT:])
        case _:
            return with_part(standing, cast, event, at)


def _cast_after(standing: Standing, cast: Cast, event: ev.BatchEvent, at: Moment) -> Cast:
    match event:
        case ev.CupTared(cup=name, tare=tare):
            return _entered(_with_cup(cast, CupOnFile(name, tare, ZERO, tare)), cast.position + _placing(cast), at)
        case ev.CupRecognised(cup=name, gross=gross, unseen=unseen):
            cup = cast.cup(name)
            assert cup is not None
            cast = _with_cup(cast, replace(cup, level=gross - unseen))
            return _entered(cast, cast.position + _placing(cast), at)
        case ev.FirstContact(at=contact):
            return _contact(standing, cast, contact, at)
        case ev.Accepted(cup=name, net=net, gross=gross):
            cup = cast.cup(name)
            assert cup is not None
            cast = _with_cup(cast, replace(cup, held=cup.held + net, level=gross))
            return _entered(replace(cast, accepted=(*cast.accepted, event)), event.step + 1, at)
        case ev.Reopened(step=step):
            return _reopened(cast, step, at)
        case ev.Combined(step=step, gross=gross):
            combine = cast.steps[step]
            assert isinstance(combine, Combine)
            cup = cast.cup(combine.cup)
            if cup is not None and gross is not None:
                cast = _with_cup(cast, replace(cup, level=gross))
            return _entered(cast, step + 1, at)
        case ev.Recomputed(steps=steps):
            return replace(cast, steps=steps)
        case ev.StepDone(step=step):
            return _stepped(standing, cast, step, at)
        case ev.EmptiedCupWeighed() | ev.MixCupWeighed():
            return _entered(cast, cast.position + 1, at)
        case ev.MixedLongEnough():
            return _clock_set(cast, ClockKind.MIX, lambda clock: replace(clock, state=AlarmState.ACKNOWLEDGED))
        case ev.AlarmRaised(clock=kind):
            return _clock_set(cast, kind, lambda clock: replace(clock, state=AlarmState.SOUNDING, raised=at))
        case ev.AlarmAcknowledged(clock=kind, by=by):
            return _clock_set(
                cast,
                kind,
                lambda clock: replace(clock, state=AlarmState.ACKNOWLEDGED, acknowledged=at, acknowledged_by=by),
            )
        case ev.Paused():
            return replace(cast, paused=True)
        case ev.Resumed():
            return replace(cast, paused=False)
        case ev.BatchLost():
            return _ended(standing, cast, Ending.LOST, at)
        case ev.Aborted():
            return _ended(standing, cast, Ending.ABORTED, at)
        case ev.Demolded():
            return replace(_stopped(standing, cast, at, ClockKind.DEMOLD), demolded=True)
        case ev.AlarmWithdrawn(clock=kind):
            return _clock_set(cast, kind, lambda clock: replace(clock, state=AlarmState.WAITING, raised=None))
        case ev.Noted() | ev.PhotoAdded() | ev.PhotoRemoved() | ev.CastBegun():
            return cast
        case _:
            assert_never(event)


def _placing(cast: Cast) -> int:
    """One when a cup that is tared or recognised ends the present step, else nothing."""
    return 1 if isinstance(cast.step, PlaceCup) else 0


def _with_cup(cast: Cast, cup: CupOnFile) -> Cast:
    return replace(cast, cups=(*(other for other in cast.cups if other.name != cup.name), cup))


def _entered(cast: Cast, position: int, at: Moment) -> Cast:
    """The cast at step `position`; a mix step starts its clock."""
    if position == cast.position:
        return cast
    cast = replace(cast, position=position, since=at)
    if isinstance(cast.step, Mix):
        clocks = tuple(clock for clock in cast.clocks if clock.kind is not ClockKind.MIX)
        return replace(cast, clocks=(*clocks, new_clock(ClockKind.MIX, cast.step.seconds, at)))
    return cast


def _contact(standing: Standing, cast: Cast, contact: Moment, at: Moment) -> Cast:
    """Pot life and pour-by run from first contact. Cure does too until the pour says better: never unarmed."""
    times = cast.plan.material.times
    lengths = {
        ClockKind.POT_LIFE: cast.plan.limit_s,
        ClockKind.POUR_BY: cast.plan.pour_by_s,
        ClockKind.DEMOLD: times.demold_s,
        ClockKind.FULL_CURE: times.full_cure_s,
    }
    clocks = tuple(
        carried_into(new_clock(kind, length, contact), standing.outage(at.boot_id), at, rate_of(standing, cast))
        for kind, length in lengths.items()
        if length is not None
    )
    return replace(cast, contact=contact, clocks=(*cast.clocks, *clocks))


def _stepped(standing: Standing, cast: Cast, step: int, at: Moment) -> Cast:
    match cast.steps[step]:
        case Mix():
            cast = _stopped(standing, cast, at, ClockKind.MIX, ClockKind.POUR_BY)
        case Pour():
            cast = replace(_stopped(standing, cast, at, ClockKind.POT_LIFE, ClockKind.POUR_BY), poured=at)
            # Minima count from the end of the pour: later is the safe side.
            again = {ClockKind.DEMOLD, ClockKind.FULL_CURE}
            clocks = tuple(
                new_clock(clock.kind, clock.length_s, at) if clock.kind in again else clock for clock in cast.clocks
            )
            cast = replace(cast, clocks=clocks)
        case _:
            pass
    return _entered(cast, step + 1, at)


def _reopened(cast: Cast, step: int, at: Moment) -> Cast:
    taken = cast.accepted[-1]
    cup = cast.cup(taken.cup)
    assert cup is not None
    cup = replace(cup, held=cup.held - taken.net, level=taken.gross - taken.net)
    clocks = tuple(clock for clock in cast.clocks if clock.kind is not ClockKind.MIX)
    return replace(_with_cup(cast, cup), accepted=cast.accepted[:-1], position=step, since=at, clocks=clocks)


def _ended(standing: Standing, cast: Cast, ending: Ending, at: Moment) -> Cast:
    return replace(_stopped(standing, cast, at, *ClockKind), ending=ending)


def _stopped(standing: Standing, cast: Cast, at: Moment, *kinds: ClockKind) -> Cast:
    def stop(clock: Clock) -> Clock:
        if clock.kind not in kinds:
            return clock
        return replace(_settled(standing, cast, clock, at), state=AlarmState.STOPPED)

    return replace(cast, clocks=tuple(stop(clock) for clock in cast.clocks))


def _clock_set(cast: Cast, kind: ClockKind, change: Callable[[Clock], Clock]) -> Cast:
    return replace(cast, clocks=tuple(change(clock) if clock.kind is kind else clock for clock in cast.clocks))


def _settled(standing: Standing, cast: Cast, clock: Clock, at: Moment) -> Clock:
    return settled(clock, at, rate_of(standing, cast))


def _over_the_gap(standing: Standing, cast: Cast, clock: Clock, seen: Moment | None, at: Moment) -> Clock:
    return carried_over(clock, seen, at, rate_of(standing, cast))


def _lot_used(standing: Standing, cast: Cast, ingredient: str, net: Mass) -> Standing:
    lot = next((lot for lot in cast.plan.lots if lot.component == ingredient), None)
    if lot is None:
        return standing
    before = standing.use_of(lot.number)
    return standing.with_use(replace(before, used=before.used + net))
