"""Weighing: guide the pour, and accept what lies in its window, at rest and no longer flowing.

A moving reading may only guide. Only a proven cup, a live reading, and several readings at rest in a row
may accept; nothing a person presses can.
"""

from __future__ import annotations

from dataclasses import replace

from station.core import events as ev
from station.core.batch import Rescue, rescued, retargeted, scale_g, total_at
from station.core.clocks import ClockKind
from station.core.contact import confirmed, watched
from station.core.cues import Cue
from station.core.cups import ENOUGH_RESTS, contact, lifted, place, prove, watch_empty
from station.core.drive import rate_of
from station.core.mass import ZERO, Mass
from station.core.meanwhile import watch_meanwhile
from station.core.pan import is_live
from station.core.rest import at_rest, flow_g_s, still_owed_mg
from station.core.steps import Combine, PlaceCup, PreMix, ReadyCheck, Weigh, WeighEmptied
from station.core.timing import left_s
from station.core.turn import Turn

OVER_S = 2.0
"""How long too much must lie at rest before the rest is recomputed: time to take a spoonful out."""

HAND_S = 0.55
"""From hearing "stop" until the stream ends: reaction and hand (assumed; to be learned per person)."""

NEAR_PART = 0.8


def on_reading(turn: Turn) -> None:
    """Look at the pan with the eyes of the present step."""
    cast = turn.standing.bench
    if cast is None and turn.pan.used:
        watch_empty(turn)
    if cast is None or cast.paused or not is_live(turn.pan, turn.now):
        return
    match cast.step:
        case PlaceCup() as step:
            place(turn, step)
        case Weigh() as step:
            _weigh(turn, step)
        case Combine() as step:
            _combine(turn, step)
        case WeighEmptied() as step:
            _emptied(turn, step)
        case ReadyCheck() | PreMix():
            watch_meanwhile(turn)
        case _:
            pass


def _weigh(turn: Turn, step: Weigh) -> None:
    cup = turn.cast.cup(step.cup)
    assert cup is not None
    if not turn.pan.proven:
        if step.reactive:
            _watch_contact(turn, _net(turn, cup.level))
        prove(turn, step)
        return
    if lifted(turn, cup):
        return
    net = _net(turn, cup.level)
    if step.reactive:
        _watch_contact(turn, net)
    _guide(turn, net, step.target, step.low)
    load = _rest(turn)
    if load is None:
        return
    net = load - cup.level
    if net < step.low:
        _more(turn, step.low - net, step.target - net)
    elif _dying_stream(turn, step.low, step.high) or turn.pan.rests < ENOUGH_RESTS:
        return
    elif net <= step.high:
        _accept(turn, step, net, load)
    else:
        _over(turn, step, net, load)


def _net(turn: Turn, level: Mass) -> Mass:
    gross = turn.pan.gross
    assert gross is not None
    return gross - level


def _rest(turn: Turn) -> Mass | None:
    """The load at rest; counts how many readings in a row were, and remembers the highest."""
    load = at_rest(turn.pan.window, turn.cast.plan.scale)
    if load is None:
        turn.pan = replace(turn.pan, rests=0, over_since_s=None)
        return None
    peak = load if turn.pan.peak is None else max(turn.pan.peak, load)
    turn.pan = replace(turn.pan, rests=turn.pan.rests + 1, peak=peak)
    return load


def _watch_contact(turn: Turn, net: Mass) -> None:
    """Also while the cup is not proven yet: a hurried pour must not go unseen."""
    if turn.cast.contact is not None:
        return
    card = turn.cast.plan.scale
    rise = watched(turn.pan.rise, net, turn.now, card)
    turn.pan = replace(turn.pan, rise=rise)
    if rise is not None and confirmed(rise, net, turn.now, card):
        contact(turn, rise.began, "seen on the scale")


def _guide(turn: Turn, net: Mass, target: Mass, low: Mass) -> None:
    """Say "slowly" and "stop" ahead of time: the display lags and the stream still falls."""
    d = turn.cast.plan.scale.readability
    lead = turn.cast.plan.scale.lag_s + HAND_S
    coming = Mass.nearest(max(0.0, flow_g_s(turn.pan.window, 0.6)) * lead)
    aim = target - (target - low).times(0.1)
    if net > ZERO and net + coming >= aim:
        turn.say_once(Cue.STOP, "Stop.")
    elif net.mg >= NEAR_PART * target.mg and Cue.STOP not in turn.pan.said:
        turn.say_once(Cue.NEAR, f"Slowly: {max(ZERO, target - net).text(d)} to go.")


def _more(turn: Turn, least: Mass, wanted: Mass) -> None:
    """At rest below the window after a stop: ask for the rest, and let the stop sound again."""
    if Cue.STOP in turn.pan.said:
        d = turn.cast.plan.scale.readability
        turn.pan = replace(turn.pan, said=turn.pan.said - {Cue.STOP, Cue.NEAR})
        words = f"A little more: {wanted.text(d)}, at least {least.text(d)}."
        turn.say_once(Cue.NEAR, words)


def _dying_stream(turn: Turn, low: Mass, high: Mass) -> bool:
    card = turn.cast.plan.scale
    tolerance = (high - low).mg / 2
    owed = still_owed_mg(turn.pan.window, card, turn.pan.poured_until_s)
    return owed > max(0.15 * tolerance, 0.4 * card.readability.mg)


def _accept(turn: Turn, step: Weigh, net: Mass, load: Mass) -> None:
    cast = turn.cast
    if step.reactive and cast.contact is None:
        contact(turn, turn.pan.rise.began if turn.pan.rise else cast.since, "accepted before it was seen to begin")
    number, place = cast.number, cast.position
    trace = turn.keep_trace(number, place)
    window = (step.target, step.low, step.high)
    turn.record(ev.Accepted(number, place, step.ingredient, step.cup, net, *window, load, trace))
    _retarget(turn, step.ingredient, net)
    d = cast.plan.scale.readability
    turn.say(Cue.ACCEPTED, f"{step.ingredient} accepted: {net.text(d)}.")


def _retarget(turn: Turn, ingredient: str, net: Mass) -> None:
    """The windows that are still to come follow from what was accepted, not from what was planned."""
    cast = turn.cast
    steps = retargeted(cast)
    if steps != cast.steps:
        words = f"The coming amounts follow from {net.text(cast.plan.scale.readability)} {ingredient}."
        turn.record(ev.Recomputed(cast.number, ingredient, net, ZERO, cast.plan.total, steps, words))


def _over(turn: Turn, step: Weigh, net: Mass, load: Mass) -> None:
    cast = turn.cast
    d = cast.plan.scale.readability
    since = turn.pan.over_since_s
    if since is None:
        turn.pan = replace(turn.pan, over_since_s=turn.now.boot_s)
        turn.say_once(Cue.OVER, f"{(net - step.target).text(d)} too much {step.ingredient}.")
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
        words = f"{(net - step.target).text(d)} too much {step.ingredient}. {outcome}"
        turn.record(ev.BatchLost(cast.number, words))
        turn.say(Cue.LOST, f"Batch lost. {words}")


def _left_for_mixing(turn: Turn) -> float | None:
    clock = turn.cast.clock(ClockKind.POUR_BY)
    if clock is None:
        return None
    return left_s(clock, turn.now, rate_of(turn.standing, turn.cast))


def _combine(turn: Turn, step: Combine) -> None:
    cup = turn.cast.cup(step.cup)
    assert cup is not None
    if not turn.pan.proven:
        _watch_contact(turn, _net(turn, cup.level))
        prove(turn, step)
        return
    if lifted(turn, cup):
        if not turn.pan.proven and turn.pan.lifted is not None:
            contact(turn, turn.pan.lifted, "the cup was lifted before anything was seen to land")
        return
    net = _net(turn, cup.level)
    _watch_contact(turn, net)
    _guide(turn, net, step.target, step.low)
    load = _rest(turn)
    if load is None or turn.cast.contact is None:
        return
    net = load - cup.level
    if net < step.low:
        _more(turn, step.low - net, step.target - net)
    elif turn.pan.rests >= ENOUGH_RESTS and not _dying_stream(turn, step.low, step.high):
        combined(turn, step, net, load)


def combined(turn: Turn, step: Combine, gained: Mass | None, load: Mass | None) -> None:
    """The transfer is over: `gained` is what the scale saw of it, None when nothing was seen."""
    cast = turn.cast
    within = gained is not None and step.low <= gained <= step.high
    trace = turn.keep_trace(cast.number, cast.position)
    turn.record(ev.Combined(cast.number, cast.position, step.source, gained, step.target, within, load, trace))
    if gained is None:
        turn.say(Cue.GO_ON, "Combined away from the scale: the transferred mass is not known.")
    elif within:
        turn.say(Cue.ACCEPTED, f"Combined: {gained.text(cast.plan.scale.readability)} transferred.")
    else:
        off = (gained.mg / step.target.mg - 1) * 100
        turn.say(Cue.OVER, f"Combined, but {off:+.1f} % off the target. The record says so.")


def _emptied(turn: Turn, step: WeighEmptied) -> None:
    cast = turn.cast
    cup = cast.cup(step.cup)
    watch_empty(turn)
    load = _rest(turn)
    if load is None or cup is None or load.mg < cup.tare.mg / 2:
        return
    if not turn.pan.emptied or turn.pan.rests < ENOUGH_RESTS:
        return
    residue = load - cup.tare
    d = cast.plan.scale.readability
    held = total_at(cast.plan, scale_g(cast)) if step.mix else cup.held
    most = max(held.mg // 5, 2 * d.mg)
    if not -2 * d.mg <= residue.mg <= most:
        words = f"{load.text(d)} is not the emptied cup {step.cup}, which weighed {cup.tare.text(d)}. Press to skip it."
        turn.pan = replace(turn.pan, complaint=words)
        return
    residue = max(ZERO, residue)
    if step.mix:
        turn.record(ev.MixCupWeighed(cast.number, step.cup, residue, held, cast.plan.cup.capacity))
        words = f"{residue.text(d)} of the mix stayed in the cup, {residue.mg / held.mg * 100:.1f} %."
    else:
        share = next(s for s in cast.plan.shares if s.cup == step.cup and s.component)
        turn.record(ev.EmptiedCupWeighed(cast.number, step.cup, share.ingredient, residue, cup.held))
        words = f"{residue.text(d)} stayed in cup {step.cup}."
    turn.pan = replace(turn.pan, used=True)
    turn.say(Cue.ACCEPTED, f"{words} Noted for the next plan.")
