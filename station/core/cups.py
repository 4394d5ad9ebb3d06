"""Cups on the pan: placed and tared, lifted, put back and recognised by their weight."""

from __future__ import annotations

from dataclasses import replace

from station.core import events as ev
from station.core.contact import trigger_mg
from station.core.cues import Cue
from station.core.cup_words import cup_name, cup_title
from station.core.emptiness import LEAST_CUP, LIFT_S, recognition_mg, watch_empty
from station.core.late_drips import late_drip
from station.core.mass import ZERO, Mass
from station.core.moment import Moment
from station.core.plan import CastPlan
from station.core.rest import at_rest, settle_s
from station.core.standing import CupOnFile
from station.core.steps import Combine, PlaceCup, Weigh
from station.core.turn import Turn
from station.texts import t

ENOUGH_RESTS = 2


def place(turn: Turn, step: PlaceCup) -> None:
    """A cup is awaited: tare the one that comes to rest, or recognise the one that was here before."""
    card = turn.cast.plan.scale
    watch_empty(turn)
    load = at_rest(turn.pan.window, card, max(0.8, 2 * card.lag_s + 0.3))
    if load is None or load < LEAST_CUP:
        return
    if turn.pan.used:
        return
    if turn.cast.cups and not turn.pan.emptied:
        if turn.cast.accepted:  # the cup of the step before still stands there: only its own ingredient can arrive
            late_drip(turn, load, max(turn.cast.accepted[-1].net.mg, recognition_mg(card)))
        return
    if step.again:
        recognise(turn, step.cup, load)
    else:
        _tare(turn, step.cup, load)


def _tare(turn: Turn, name: str, load: Mass) -> None:
    cast = turn.cast
    d = cast.plan.scale.readability
    content = content_mass(cast.plan, name)
    if load + content > cast.plan.scale.maximum:
        words = t(
            "The cup weighs {load}; with {content} in it that is beyond the scale, which ends at {maximum}. Use "
            "a lighter cup.",
            load=load.text(d),
            content=content.text(d),
            maximum=cast.plan.scale.maximum.text(d),
        )
        turn.pan = replace(turn.pan, complaint=words)
        turn.say_once(Cue.REFUSED, words)
        return
    turn.record(ev.CupTared(cast.number, name, load))
    turn.pan = replace(turn.pan, proven=True)
    turn.say(Cue.TARED, t("Cup tared at {load}.", load=load.text(d)))


def content_mass(plan: CastPlan, cup: str) -> Mass:
    """What the plan weighs or transfers into this cup."""
    inside = sum((share.planned for share in plan.shares if share.cup == cup), start=ZERO)
    arrives = sum((s.target for s in plan.steps if isinstance(s, Combine) and s.cup == cup), start=ZERO)
    return inside + arrives


def prove(turn: Turn, step: Weigh | Combine) -> None:
    """The cup must show by its weight that it is the one; then weighing goes on where it was."""
    card = turn.cast.plan.scale
    cup = turn.cast.cup(step.cup)
    watch_empty(turn)
    load = at_rest(turn.pan.window, card, settle_s(card))
    turn.pan = replace(turn.pan, rests=0 if load is None else turn.pan.rests + 1)
    if load is None or cup is None or turn.pan.rests < ENOUGH_RESTS:
        return
    if load < LEAST_CUP:
        return
    grown = load - cup.level
    limit = recognition_mg(card)
    if grown.mg < -limit:
        if isinstance(step, Weigh) and cup.held == ZERO and turn.pan.emptied:
            _tare(turn, step.cup, load)  # nothing was in it yet: another empty cup is as good
        else:
            _complain(turn, step.cup, cup, load)
        return
    if grown.mg <= _seen_before(turn, step, cup) + limit:
        recognise(turn, step.cup, load)
        return
    d = card.readability
    turn.pan = replace(
        turn.pan,
        grew=grown,
        complaint=t(
            "{cup} is {grown} heavier than at its last weighing. Press if that was poured in; otherwise put "
            "the right cup on.",
            cup=cup_title(step.cup),
            grown=grown.text(d),
        ),
    )


def _seen_before(turn: Turn, step: Weigh | Combine, cup: CupOnFile) -> int:
    """How much more than its level the cup may have held when it was last seen, in mg."""
    if turn.pan.peak is not None:
        return max(0, (turn.pan.peak - cup.level).mg)
    if turn.pan.lifted is not None:
        return 0
    # After a restart nobody saw it: anything up to the window may have been poured before.
    return step.high.mg if isinstance(step, Weigh) or turn.cast.contact is not None else 0


def recognise(turn: Turn, name: str, load: Mass) -> None:
    """Take the cup for the right one if its weight says so; what it gained unseen counts as poured."""
    cast, card = turn.cast, turn.cast.plan.scale
    cup = cast.cup(name)
    assert cup is not None
    step = cast.step
    grown = load - cup.level
    if isinstance(step, PlaceCup):
        if abs(grown).mg > recognition_mg(card):
            _complain(turn, name, cup, load)
            return
        unseen = ZERO
    else:
        # A little more or less is drift and drips; anything that could be a pour is one.
        unseen = grown if grown.mg >= trigger_mg(card) else ZERO
    reacts = isinstance(step, Combine) or (isinstance(step, Weigh) and step.reactive)
    if reacts and unseen > ZERO and cast.contact is None:
        contact(turn, turn.pan.lifted or cast.since, t("found in the cup when it came back"))
    turn.record(ev.CupRecognised(cast.number, name, load, unseen))
    turn.pan = replace(turn.pan, proven=True, lifted=None, low_since=None, grew=None, complaint="", rests=0)
    turn.say(Cue.CUP_KNOWN, t("{cup} recognised.", cup=cup_title(name)))


def _complain(turn: Turn, name: str, cup: CupOnFile, load: Mass) -> None:
    d = turn.cast.plan.scale.readability
    words = t(
        "This is not {name} as it was: the scale shows {load}, {level} were expected. Take everything "
        "off, let the scale show zero, and put the cup back.",
        name=cup_name(name),
        load=load.text(d),
        level=cup.level.text(d),
    )
    turn.pan = replace(turn.pan, complaint=words)
    turn.say_once(Cue.REFUSED, words)


def lifted(turn: Turn, cup: CupOnFile) -> bool:
    """Whether the proven cup has just left the pan: far below its weight for a moment, not for a blink."""
    gross = turn.pan.gross
    assert gross is not None
    if gross.mg >= cup.level.mg / 2:
        turn.pan = replace(turn.pan, low_since=None)
        return False
    since = turn.pan.low_since or turn.now
    turn.pan = replace(turn.pan, low_since=since)
    if turn.now.boot_s - since.boot_s < LIFT_S:
        return True
    turn.pan = replace(turn.pan, proven=False, lifted=since, rests=0, over_since_s=None, rise=None)
    turn.say(Cue.CUP_LIFTED, t("{cup} lifted. Put it back to go on.", cup=cup_title(cup.name)))
    return True


def contact(turn: Turn, at: Moment, how: str) -> None:
    """Start the pot life at `at`, once."""
    if turn.cast.contact is None:
        turn.record(ev.FirstContact(turn.cast.number, at, how))
        limit = turn.cast.plan.limit_s
        turn.say(Cue.CONTACT, t("First contact. Pot life {limit} s.", limit=f"{limit:.0f}"))
