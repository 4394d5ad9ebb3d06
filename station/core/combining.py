"""Combining: one cup poured into the other on the scale, and what was transferred held against the ratio."""

from __future__ import annotations

from station.core import events as ev
from station.core.cues import Cue
from station.core.cups import ENOUGH_RESTS, contact, lifted, prove
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
from station.core.leading import lesson_of
from station.core.mass import Mass
from station.core.steps import Combine
from station.core.turn import Turn
from station.texts import number, t


def combine(turn: Turn, step: Combine) -> None:
    """Look at the pan while cup is poured into cup; it ends by itself once enough has come and lies still."""
    cup = turn.cast.cup(step.cup)
    assert cup is not None
    if not turn.pan.proven:
        watch_contact(turn, net_on(turn, cup.level))
        prove(turn, step)
        return
    if lifted(turn, cup):
        if not turn.pan.proven and turn.pan.lifted is not None:
            contact(turn, turn.pan.lifted, t("the cup was lifted before anything was seen to land"))
        return
    net = net_on(turn, cup.level)
    watch_contact(turn, net)
    aim = aim_of(turn, step)
    guide(turn, net, aim)
    load = load_at_rest(turn)
    if load is None or turn.cast.contact is None:
        return
    net = load - cup.level
    if drop_awaited(turn, net, step.low, step.high):
        return
    if net < step.low:
        ask_for_more(turn, net, aim)
    elif turn.pan.rests >= ENOUGH_RESTS and not dying_stream(turn, step.low, step.high):
        combined(turn, step, net, load)


def combined(turn: Turn, step: Combine, gained: Mass | None, load: Mass | None) -> None:
    """The transfer is over: `gained` is what the scale saw of it, None when nothing was seen."""
    cast = turn.cast
    within = gained is not None and step.low <= gained <= step.high
    lesson = None if gained is None else lesson_of(turn, gained, aim_of(turn, step))
    trace = turn.keep_trace(cast.number, cast.position)
    turn.record(ev.Combined(cast.number, cast.position, step.source, gained, step.target, within, load, trace))
    if lesson is not None:
        turn.record(lesson)
    if gained is None:
        turn.say(Cue.GO_ON, t("Combined away from the scale: the transferred mass is not known."))
    elif within:
        turn.say(Cue.ACCEPTED, t("Combined: {gained} transferred.", gained=gained.text(cast.plan.scale.readability)))
    else:
        off = (gained.mg / step.target.mg - 1) * 100
        turn.say(Cue.OVER, t("Combined, but {off} % off the target. The record says so.", off=number(off, "+.1f")))
