"""Guiding: what the pan shows of a pour, and the words that lead it into its window. Nothing is accepted here."""

from __future__ import annotations

from dataclasses import replace

from station.core.contact import confirmed, landed, watched
from station.core.cues import Cue
from station.core.cups import contact
from station.core.known_pours import card_source
from station.core.leading import Aim, lead, wants_more
from station.core.mass import ZERO, Mass
from station.core.rest import a_drop_decides, at_rest, drops_may_come, flow_g_s, still_owed_mg
from station.core.steps import Combine, Weigh
from station.core.turn import Turn
from station.texts import t

HAND_S = 0.55
"""From hearing "stop" until the stream ends: reaction and hand (assumed; to be learned per person)."""

NEAR_PART = 0.8


def net_on(turn: Turn, level: Mass) -> Mass:
    """What lies on the pan above `level`. The pan must be live."""
    gross = turn.pan.gross
    assert gross is not None
    return gross - level


def load_at_rest(turn: Turn) -> Mass | None:
    """The load at rest; counts how many readings in a row were, and remembers the highest."""
    load = at_rest(turn.pan.window, turn.card)
    if load is None:
        turn.pan = replace(turn.pan, rests=0, over_since_s=None)
        return None
    peak = load if turn.pan.peak is None else max(turn.pan.peak, load)
    turn.pan = replace(turn.pan, rests=turn.pan.rests + 1, peak=peak)
    return load


def watch_contact(turn: Turn, net: Mass) -> None:
    """See the reactive components meet; also while the cup is not proven yet: a hurried pour must not go unseen."""
    if turn.cast.contact is not None:
        return
    card = turn.cast.plan.scale
    rise = watched(turn.pan.rise, net, turn.now, card)
    turn.pan = replace(turn.pan, rise=rise)
    if rise is not None and confirmed(rise, net, turn.now, turn.pan.window, card):
        contact(turn, landed(rise, card), t("seen on the scale"))


def aim_of(turn: Turn, step: Weigh | Combine) -> Aim:
    """What this step of the cast wants of a pour. A later weighing can follow an overshoot, if it is no top-up.

    Cup into cup is led as well, for it is a pour onto the pan; but a hand pours otherwise from a cup than from a
    bottle, so its lessons are its own.
    """
    cast = turn.cast
    name = step.ingredient if isinstance(step, Weigh) else f"{step.source} → {step.cup}"
    source = card_source(cast.plan.material.key, name, cast.plan.scale)
    ahead = any(isinstance(later, Weigh) for later in cast.steps[cast.position + 1 :])
    first = isinstance(step, Weigh) and step.already == ZERO
    return Aim(step.target, step.low, step.high, source, ahead and first)


def guide(turn: Turn, net: Mass, aim: Aim) -> None:
    """Say "slowly" and "stop" ahead of time: the display lags and the stream still falls."""
    d = turn.card.readability
    if turn.leading.on:
        lead(turn, net, aim)
    else:
        _by_fixed_lead(turn, net, aim)
    if net.mg >= NEAR_PART * aim.target.mg and Cue.STOP not in turn.pan.said:
        turn.say_once(Cue.NEAR, t("Slowly: {target} to go.", target=max(ZERO, aim.target - net).text(d)))


def _by_fixed_lead(turn: Turn, net: Mass, aim: Aim) -> None:
    coming = Mass.nearest(max(0.0, flow_g_s(turn.pan.window, 0.6)) * (turn.card.lag_s + HAND_S))
    if net > ZERO and net + coming >= aim.target - (aim.target - aim.low).times(0.1):
        turn.say_once(Cue.STOP, t("Stop."))


def ask_for_more(turn: Turn, net: Mass, aim: Aim) -> None:
    """At rest below the window after a stop: ask for the rest, and let the stop sound again."""
    if turn.leading.on:
        if not wants_more(turn, net, aim):
            return
    elif Cue.STOP not in turn.pan.said:
        return
    d = turn.card.readability
    turn.pan = replace(turn.pan, said=turn.pan.said - {Cue.STOP, Cue.NEAR})
    wanted, least = aim.target - net, aim.low - net
    words = t("A little more: {wanted}, at least {least}.", wanted=wanted.text(d), least=least.text(d))
    turn.say_once(Cue.NEAR, words)


def dying_stream(turn: Turn, low: Mass, high: Mass) -> bool:
    """Whether so much is still to land that the window from `low` to `high` would notice."""
    card = turn.card
    tolerance = (high - low).mg / 2
    owed = still_owed_mg(turn.pan.window, card, turn.pan.poured_until_s)
    return owed > max(0.15 * tolerance, 0.4 * card.readability.mg)


def drop_awaited(turn: Turn, net: Mass, low: Mass, high: Mass) -> bool:
    """Whether a verdict on `net`, at rest, must wait because one drop more would change it."""
    card = turn.card
    return a_drop_decides(net, low, high, card) and drops_may_come(turn.pan.window, card, turn.pan.poured_until_s)
