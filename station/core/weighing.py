"""Weighing: guide the pour, and accept what lies in its window, at rest and no longer flowing.

A moving reading may only guide. Only a proven cup, a live reading, and several readings at rest in a row
may accept; nothing a person presses can.
"""

from __future__ import annotations

from dataclasses import replace

from station.core import events as ev
from station.core.batch import Rescue, rescued, retargeted
from station.core.clocks import ClockKind
from station.core.combining import combine
from station.core.contact import landed
from station.core.cues import Cue
from station.core.cups import ENOUGH_RESTS, contact, lifted, place, prove
from station.core.drive import rate_of
from station.core.emptied import weigh_emptied
from station.core.emptiness import watch_empty
from station.core.guiding import (
    aim_of,
    ask_for_more,
    drop_awaited,
    dying_stream,
    guide,
    load_at_rest,
    net_on,
    watch_contact,
)
from station.core.late_drips import drip_of_before, watch_stirring
from station.core.leading import lesson_of, sound_due
from station.core.mass import ZERO, Mass
from station.core.meanwhile import watch_meanwhile
from station.core.pan import is_live
from station.core.parts import watch_part
from station.core.practice import practice_aim, practise
from station.core.steps import Combine, Mix, PlaceCup, PreMix, ReadyCheck, Weigh, WeighEmptied
from station.core.timing import left_s
from station.core.turn import Turn
from station.texts import t

OVER_S = 2.0
"""How long too much must lie at rest before the rest is recomputed: time to take a spoonful out."""


def on_reading(turn: Turn) -> None:
    """Look at the pan with the eyes of the present step."""
    cast = turn.standing.bench
    if cast is None and turn.pan.used:
        watch_empty(turn)
    if cast is None and is_live(turn.pan, turn.now):
        if turn.pan.practice is not None:
            practise(turn)
        else:
            watch_part(turn)
    if cast is None or cast.paused or not is_live(turn.pan, turn.now):
        return
    match cast.step:
        case PlaceCup() as step:
            place(turn, step)
        case Weigh() as step:
            _weigh(turn, step)
        case Combine() as step:
            combine(turn, step)
        case WeighEmptied() as step:
            weigh_emptied(turn, step)
        case ReadyCheck() | PreMix():
            watch_meanwhile(turn)
        case Mix():
            watch_stirring(turn)
        case _:
            pass


def on_tick(turn: Turn) -> None:
    """Between two readings: a stop that has become due."""
    cast, practice = turn.standing.bench, turn.pan.practice
    if not turn.leading.on or turn.pan.pour.stop_at_s is None or not is_live(turn.pan, turn.now):
        return
    if cast is None:
        if practice is not None:
            sound_due(turn, practice_aim(practice))
    elif not cast.paused and turn.pan.proven and isinstance(cast.step, Weigh | Combine):
        sound_due(turn, aim_of(turn, cast.step))


def _weigh(turn: Turn, step: Weigh) -> None:
    cup = turn.cast.cup(step.cup)
    assert cup is not None
    if not turn.pan.proven:
        if step.reactive:
            watch_contact(turn, net_on(turn, cup.level))
        prove(turn, step)
        return
    if lifted(turn, cup) or drip_of_before(turn, step):
        return
    net = net_on(turn, cup.level)
    if step.reactive:
        watch_contact(turn, net)
    aim = aim_of(turn, step)
    guide(turn, net, aim)
    load = load_at_rest(turn)
    if load is None:
        return
    net = load - cup.level
    if drop_awaited(turn, net, step.low, step.high):
        return
    if net < step.low:
        ask_for_more(turn, net, aim)
    elif dying_stream(turn, step.low, step.high) or turn.pan.rests < ENOUGH_RESTS:
        return
    elif net <= step.high:
        _accept(turn, step, net, load)
    else:
        _over(turn, step, net, load)


def _accept(turn: Turn, step: Weigh, net: Mass, load: Mass) -> None:
    cast = turn.cast
    if step.reactive and cast.contact is None:
        began = landed(turn.pan.rise, cast.plan.scale) if turn.pan.rise else cast.since
        contact(turn, began, t("accepted before it was seen to begin"))
    number, place = cast.number, cast.position
    lesson = lesson_of(turn, net, aim_of(turn, step))
    trace = turn.keep_trace(number, place)
    window = (step.target, step.low, step.high)
    turn.record(ev.Accepted(number, place, step.ingredient, step.cup, net, *window, load, trace))
    _retarget(turn, step.ingredient, net)
    if lesson is not None:
        turn.record(lesson)
    d = cast.plan.scale.readability
    turn.say(Cue.ACCEPTED, t("{ingredient} accepted: {net}.", ingredient=step.ingredient, net=net.text(d)))


def _retarget(turn: Turn, ingredient: str, net: Mass) -> None:
    """The windows that are still to come follow from what was accepted, not from what was planned."""
    cast = turn.cast
    steps = retargeted(cast)
    if steps != cast.steps:
        words = t(
            "The coming amounts follow from {net} {ingredient}.",
            net=net.text(cast.plan.scale.readability),
            ingredient=ingredient,
        )
        turn.record(ev.Recomputed(cast.number, ingredient, net, ZERO, cast.plan.total, steps, words))


def _over(turn: Turn, step: Weigh, net: Mass, load: Mass) -> None:
    cast = turn.cast
    d = cast.plan.scale.readability
    since = turn.pan.over_since_s
    if since is None:
        turn.pan = replace(turn.pan, over_since_s=turn.now.boot_s)
        turn.say_once(
            Cue.OVER, t("{net} too much {ingredient}.", net=(net - step.target).text(d), ingredient=step.ingredient)
        )
        return
    if turn.now.boot_s - since < OVER_S:
        return
    outcome = rescued(cast, net, _left_for_mixing(turn))
    if isinstance(outcome, Rescue):
        over = net - step.target
        turn.record(ev.Recomputed(cast.number, step.ingredient, net, over, outcome.total, outcome.steps, outcome.words))
        turn.say(Cue.RECOMPUTED, outcome.words)
        based = turn.cast.step
        assert isinstance(based, Weigh)
        _accept(turn, based, net, load)
    else:
        words = t(
            "{net} too much {ingredient}. {outcome}",
            net=(net - step.target).text(d),
            ingredient=step.ingredient,
            outcome=outcome,
        )
        turn.record(ev.BatchLost(cast.number, words))
        turn.say(Cue.LOST, t("Batch lost. {words}", words=words))


def _left_for_mixing(turn: Turn) -> float | None:
    clock = turn.cast.clock(ClockKind.POUR_BY)
    if clock is None:
        return None
    return left_s(clock, turn.now, rate_of(turn.standing, turn.cast))
