"""Presses: one pedal, two meanings. Short: go on, or acknowledge what sounds. Long: pause, resume, or part is out."""

from __future__ import annotations

from dataclasses import replace

from station.core import events as ev
from station.core.alarms import since_raised_s, sounding
from station.core.clocks import AlarmState, Clock, ClockKind
from station.core.combining import combined
from station.core.cues import Cue
from station.core.cup_words import cup_title
from station.core.cups import contact
from station.core.messages import Press, Pressed
from station.core.moment import gap_s
from station.core.parts import why_not
from station.core.rest import at_rest
from station.core.standing import Cast
from station.core.steps import Close, Combine, Cure, Mix, Pour, PreMix, ReadyCheck, Step, Weigh, WeighEmptied
from station.core.turn import Turn
from station.errors import Refused
from station.texts import t

AGAIN_S = 6.0
"""A second press within this time goes on although a minimum time has not been kept."""

HURRIED = (Combine, Mix, Pour)
"""Steps in which seconds count: there a press belongs to the cast at the bench, whatever else sounds."""


def pressed(turn: Turn, press: Pressed) -> None:
    """Raises Refused when the press means nothing now."""
    cast = turn.standing.bench
    if press.press is Press.LONG:
        _pause(turn, cast, press.by)
        return
    alarms = sounding(turn.standing)
    hurried = cast is not None and isinstance(cast.step, HURRIED) and cast.contact is not None
    if alarms and not hurried:
        acknowledge(turn, *alarms[0], press.by)
    elif cast is None:
        raise Refused(why_not(turn) or t("Nothing waits for a press."), t("Begin a cast on the page."))
    elif cast.paused:
        turn.record(ev.Resumed(cast.number, press.by))
        turn.say(Cue.RESUMED, t("Weighing goes on."))
    else:
        _silence_own(turn, cast, press.by)
        _go_on(turn, turn.cast, press.by)


def _pause(turn: Turn, cast: Cast | None, by: str) -> None:
    if cast is None:
        _out_of_mold(turn, by)
        return
    if cast.paused:
        turn.record(ev.Resumed(cast.number, by))
        turn.say(Cue.RESUMED, t("Weighing goes on."))
    else:
        turn.record(ev.Paused(cast.number, by))
        turn.say(Cue.PAUSED, t("Paused. The clocks run on. Press to go on."))


def _out_of_mold(turn: Turn, by: str) -> None:
    """At a free bench: the cast whose demold alarm was answered first, of those still in a mold, is out of it.

    One that nobody has answered yet is not: whatever stands on the pedal must not silence it.
    """
    ready = [
        (clock.acknowledged.boot_s if clock.acknowledged.boot_id == turn.now.boot_id else float("-inf"), cast)
        for cast in turn.standing.casts
        if not cast.demolded
        and (clock := cast.clock(ClockKind.DEMOLD)) is not None
        and clock.state is AlarmState.ACKNOWLEDGED
        and clock.acknowledged is not None
    ]
    if not ready:
        raise Refused(t("There is no cast at the bench to pause, and none that may come out of its mold."))
    _, cast = min(ready, key=lambda one: (one[0], one[1].number))
    turn.record(ev.Demolded(cast.number, by))
    turn.say(Cue.DEMOLDED, t("Cast {number}, {mold}: out of its mold.", number=cast.number, mold=cast.plan.mold.title))


def acknowledge(turn: Turn, cast: Cast, clock: Clock, by: str) -> None:
    """Silence one alarm and say who did."""
    turn.record(ev.AlarmAcknowledged(cast.number, clock.kind, by, since_raised_s(clock, turn.now)))
    turn.say(Cue.ACKNOWLEDGED, t("Cast {number}: {kind} acknowledged.", number=cast.number, kind=t(clock.kind.value)))


def _silence_own(turn: Turn, cast: Cast, by: str) -> None:
    """Going on answers the alarms that asked for just that."""
    for clock in cast.clocks:
        if clock.state is AlarmState.SOUNDING and clock.kind in (ClockKind.POUR_BY, ClockKind.POT_LIFE):
            turn.record(ev.AlarmAcknowledged(cast.number, clock.kind, by, since_raised_s(clock, turn.now)))


def _go_on(turn: Turn, cast: Cast, by: str) -> None:
    step = cast.step
    match step:
        case ReadyCheck() | Pour() | Close() | WeighEmptied():
            _done(turn, cast, by)
        case PreMix(seconds=seconds) | Mix(seconds=seconds):
            _if_long_enough(turn, cast, seconds, by)
        case Weigh() if turn.pan.grew is not None:
            _own_up(turn, cast, step.cup)
        case Combine():
            _combine_by_press(turn, cast, step)
        case _:
            raise Refused(_not_now(step), t("The station goes on by itself when the scale shows it."))


def _not_now(step: Step) -> str:
    match step:
        case Weigh(ingredient=ingredient):
            return t(
                "{ingredient} is not in its window and at rest yet; a press cannot accept it.", ingredient=ingredient
            )
        case _:
            return t("The cup is not on the scale and at rest yet.")


def _done(turn: Turn, cast: Cast, by: str, early: bool = False) -> None:
    turn.record(ev.StepDone(cast.number, cast.position, by, early))
    after = turn.standing.cast(cast.number)
    if after is not None and isinstance(after.step, Cure):
        turn.say(Cue.DONE, t("Cast {number} cures. The bench is free.", number=cast.number))
    else:
        turn.say(Cue.GO_ON, "")


def _if_long_enough(turn: Turn, cast: Cast, seconds: float, by: str) -> None:
    been = gap_s(cast.since, turn.now)
    asked = turn.pan.asked_early_s
    late_enough = been is None or been >= seconds
    if late_enough or (asked is not None and turn.now.boot_s - asked <= AGAIN_S):
        _done(turn, cast, by, early=not late_enough)
        return
    turn.pan = replace(turn.pan, asked_early_s=turn.now.boot_s)
    left = seconds - (been or 0.0)
    turn.say(Cue.REFUSED, t("Stir {left} s longer. Press once more to go on all the same.", left=f"{left:.0f}"))


def _own_up(turn: Turn, cast: Cast, name: str) -> None:
    """The person says that what the cup gained was poured while nobody looked."""
    grown = turn.pan.grew
    cup = cast.cup(name)
    assert grown is not None
    assert cup is not None
    step = cast.step
    if isinstance(step, Weigh) and step.reactive:
        contact(turn, turn.pan.lifted or cast.since, t("poured away from the scale, said the person"))
    turn.record(ev.CupRecognised(cast.number, name, cup.level + grown, grown))
    turn.pan = replace(turn.pan, proven=True, lifted=None, grew=None, complaint="", rests=0)
    turn.say(Cue.CUP_KNOWN, t("{cup} goes on with what was poured.", cup=cup_title(name)))


def _combine_by_press(turn: Turn, cast: Cast, step: Combine) -> None:
    """Before contact a press says that the components meet now; after it, that all is transferred."""
    cup, grown = cast.cup(step.cup), turn.pan.grew
    if grown is not None and cup is not None:
        # The cup came back heavier and the person owns up to it: they met when nobody looked.
        contact(turn, turn.pan.lifted or cast.since, t("poured away from the scale, said the person"))
        combined(turn, step, grown, cup.level + grown)
        return
    if cast.contact is None:
        contact(turn, turn.now, t("said by a press"))
        return
    load = at_rest(turn.pan.window, cast.plan.scale) if turn.pan.proven else None
    if load is None or cup is None:
        combined(turn, step, None, None)
    else:
        combined(turn, step, load - cup.level, load)
