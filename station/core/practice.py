"""Practice: pour water at a free bench, as often as wished; it teaches the station and shows how one gets on."""

from __future__ import annotations

from dataclasses import replace
from typing import assert_never

from station.core import events as ev
from station.core.cues import Cue
from station.core.cups import ENOUGH_RESTS
from station.core.emptiness import LEAST_CUP
from station.core.guidance.pour import Pour
from station.core.guiding import ask_for_more, drop_awaited, dying_stream, guide, load_at_rest
from station.core.known_pours import card_source
from station.core.leading import Aim, lesson_of
from station.core.mass import ZERO, Mass
from station.core.pouring_messages import BeginPractice, EndPractice, ForgetPours, PouringCommand
from station.core.practice_state import Practice
from station.core.turn import Turn
from station.errors import Refused
from station.metrology.tolerance import window_mg
from station.texts import number, t

MOST_TIMES = 50
MOST_PERCENT = 20
LEAST_STEPS_OF_D = 3
"""A tolerance of fewer d cannot be hit by pouring."""

WATER = ""
"""Stands for the key of the material and the name of the ingredient in what practice teaches."""


def practice_aim(practice: Practice) -> Aim:
    """What one pour of the practice wants. Nothing is lost by an overshoot of water."""
    source = card_source(WATER, WATER, practice.card)
    return Aim(practice.target, practice.low, practice.high, source, True)


def on_pouring(turn: Turn, command: PouringCommand) -> None:
    """Forget, begin or end. Raises Refused where that makes no sense now."""
    match command:
        case ForgetPours(material=material, ingredient=ingredient, everything=everything, by=by):
            if not turn.standing.pours:
                raise Refused(t("Nothing has been learned from pours yet."))
            turn.record(ev.PoursForgotten(material, ingredient, everything, by))
            turn.pan = replace(turn.pan, known=None)
        case BeginPractice():
            turn.pan = replace(turn.pan, practice=_begun(turn, command), pour=Pour(), known=None, said=frozenset())
        case EndPractice():
            turn.pan = replace(turn.pan, practice=None, pour=Pour(), known=None, said=frozenset())
        case _:
            assert_never(command)


def _begun(turn: Turn, begin: BeginPractice) -> Practice:
    if turn.standing.bench is not None:
        raise Refused(t("A cast is at the bench."), t("Practise before it or after it."))
    if not 0 < begin.percent <= MOST_PERCENT:
        raise Refused(t("The tolerance must lie between 0 and {most} %.", most=MOST_PERCENT))
    low, high = window_mg(begin.target.mg, begin.percent)
    least = LEAST_STEPS_OF_D * begin.card.readability.mg
    if begin.target <= ZERO or begin.target > begin.card.maximum:
        raise Refused(
            t("This scale cannot weigh {target}.", target=begin.target.text()),
            t("It ends at {maximum}.", maximum=begin.card.maximum.text(begin.card.readability)),
        )
    if high - begin.target.mg < least:
        smallest = Mass.nearest(least / 1000 / (begin.percent / 100))
        raise Refused(
            t(
                "± {percent} % of {target} is finer than this scale can guide a pour.",
                percent=number(begin.percent),
                target=begin.target.text(begin.card.readability),
            ),
            t("Pour {smallest} or more, or use a pipette.", smallest=smallest.text(begin.card.readability)),
        )
    if not 1 <= begin.times <= MOST_TIMES:
        raise Refused(t("Practise 1 to {most} times.", most=MOST_TIMES))
    return Practice(begin.target, Mass(low), Mass(high), begin.times, begin.card, begin.by)


def practise(turn: Turn) -> None:
    """Look at the pan: a cup is put down, water poured into it, and what lies there at rest is told."""
    practice = turn.pan.practice
    assert practice is not None
    if practice.over:
        return
    if practice.level is None:
        _cup(turn, practice)
        return
    gross = turn.pan.gross
    assert gross is not None
    if gross < practice.level.times(0.5):
        turn.pan = replace(turn.pan, practice=replace(practice, level=None), pour=Pour(), rests=0)
        return
    aim = practice_aim(practice)
    guide(turn, gross - practice.level, aim)
    load = load_at_rest(turn)
    if load is None:
        return
    net = load - practice.level
    if drop_awaited(turn, net, practice.low, practice.high):
        return
    if net < practice.low:
        ask_for_more(turn, net, aim)
    elif turn.pan.rests >= ENOUGH_RESTS and not dying_stream(turn, practice.low, practice.high):
        _poured(turn, practice, aim, net, load)


def _cup(turn: Turn, practice: Practice) -> None:
    load = load_at_rest(turn)
    if load is not None and load >= LEAST_CUP and turn.pan.rests >= ENOUGH_RESTS:
        turn.pan = replace(turn.pan, practice=replace(practice, level=load), pour=Pour(), said=frozenset())
        turn.say(Cue.TARED, t("Pour {target} of water.", target=practice.target.text(practice.card.readability)))


def _poured(turn: Turn, practice: Practice, aim: Aim, net: Mass, load: Mass) -> None:
    if (lesson := lesson_of(turn, net, aim)) is not None:
        turn.record(lesson)
    after = replace(practice, done=(*practice.done, net), level=load)
    off = (net - practice.target).text(practice.card.readability)
    words = t(
        "{net}, {off} off.", net=net.text(practice.card.readability), off=off if net < practice.target else f"+{off}"
    )
    if not after.over:
        words += t(" Pour again, or empty the cup first.")
    turn.pan = replace(turn.pan, practice=after, pour=Pour(), known=None, said=frozenset(), rests=0)
    turn.say(Cue.ACCEPTED if net <= practice.high else Cue.OVER, words)
