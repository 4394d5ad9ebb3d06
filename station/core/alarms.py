"""Alarms: which clocks fell due, which alarm is the most urgent, and how strongly it sounds."""

from __future__ import annotations

from station.core import events as ev
from station.core.clocks import ALARMING, AlarmState, Clock, ClockKind
from station.core.cues import Cue, Urgency
from station.core.drive import rate_of
from station.core.moment import Moment, gap_s
from station.core.standing import Cast, Standing
from station.core.timing import left_s, runs
from station.core.turn import Turn
from station.texts import t

STRONG_AFTER_S = 60.0

URGENT_FIRST = tuple(ClockKind)


def raise_due(turn: Turn) -> None:
    """Raise every alarm whose clock has run out, and say when the mix has been mixed long enough."""
    for cast in turn.standing.casts:
        for clock, left in _waiting(turn.standing, cast, turn.now):
            if left <= 0:
                _raise(turn, cast, clock, left)


def _waiting(standing: Standing, cast: Cast, now: Moment) -> list[tuple[Clock, float]]:
    """The cast's clocks that wait for their time, with the seconds until then. Each turn of the loop asks twice."""
    clocks = [clock for clock in cast.clocks if clock.state is AlarmState.WAITING]
    rate = rate_of(standing, cast) if clocks else 1.0
    return [(clock, left_s(clock, now, rate)) for clock in clocks]


def _raise(turn: Turn, cast: Cast, clock: Clock, left: float) -> None:
    if clock.kind not in ALARMING:
        turn.record(ev.MixedLongEnough(cast.number))
        turn.say(Cue.MIX_ENOUGH, t("Mixed long enough. Press and pour."))
        return
    late = None if clock.unknown_gap else max(0.0, -left)
    turn.record(ev.AlarmRaised(cast.number, clock.kind, late, alarm_words(cast, clock)))


def alarm_words(cast: Cast, clock: Clock) -> str:
    """What the alarm tells the person to do."""
    off = t(" The station was off for an unknown time.") if clock.unknown_gap else ""
    match clock.kind:
        case ClockKind.POT_LIFE:
            return t(
                "Cast {number}: the pot life is over. Do not pour what has begun to gel.{off}",
                number=cast.number,
                off=off,
            )
        case ClockKind.POUR_BY:
            return t("Cast {number}: stop mixing and pour now.{off}", number=cast.number, off=off)
        case ClockKind.DEMOLD:
            return t(
                "Cast {number}, {mold}: ready to demold.{off}", number=cast.number, mold=cast.plan.mold.title, off=off
            )
        case ClockKind.FULL_CURE:
            return t("Cast {number}, {mold}: fully cured.{off}", number=cast.number, mold=cast.plan.mold.title, off=off)
        case ClockKind.MIX:
            return t("Cast {number}: mixed long enough.", number=cast.number)


def sounding(standing: Standing) -> list[tuple[Cast, Clock]]:
    """All alarms that nobody has acknowledged, most urgent first, older casts first."""
    found = [(cast, clock) for cast in standing.casts for clock in cast.clocks if clock.state is AlarmState.SOUNDING]
    return sorted(found, key=lambda item: (URGENT_FIRST.index(item[1].kind), item[0].number))


def urgency(standing: Standing, now: Moment) -> Urgency:
    """How the bench should sound now: a level, not an edge, so it sounds again after a restart by itself."""
    levels = [clock_urgency(clock, now) for _, clock in sounding(standing)]
    if not levels:
        return Urgency.CALM
    return Urgency.STRONG if Urgency.STRONG in levels else Urgency.FIRST


def clock_urgency(clock: Clock, now: Moment) -> Urgency:
    """A minute without an answer, or a time that nobody knows, makes an alarm strong."""
    since = since_raised_s(clock, now)
    return Urgency.STRONG if since is None or since >= STRONG_AFTER_S else Urgency.FIRST


def since_raised_s(clock: Clock, now: Moment) -> float | None:
    """Seconds since the alarm was raised; None when unknown."""
    return None if clock.raised is None else gap_s(clock.raised, now)


def next_due_s(standing: Standing, now: Moment) -> float | None:
    """Seconds until the next clock falls due; None when none is waiting."""
    return min((left for cast in standing.casts for _, left in _waiting(standing, cast, now)), default=None)


def any_runs(standing: Standing) -> bool:
    """Whether any clock still counts: then heartbeats are worth their writes."""
    return any(runs(clock) for cast in standing.casts for clock in cast.clocks)
