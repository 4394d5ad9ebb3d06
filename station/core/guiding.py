"""Guiding: what the pan shows of a pour, and the words that lead it into its window. Nothing is accepted here."""

from __future__ import annotations

from dataclasses import replace

from station.core.contact import confirmed, watched
from station.core.cues import Cue
from station.core.cups import contact
from station.core.mass import ZERO, Mass
from station.core.rest import at_rest, flow_g_s, still_owed_mg
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
    load = at_rest(turn.pan.window, turn.cast.plan.scale)
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
    if rise is not None and confirmed(rise, net, turn.now, card):
        contact(turn, rise.began, t("seen on the scale"))


def guide(turn: Turn, net: Mass, target: Mass, low: Mass) -> None:
    """Say "slowly" and "stop" ahead of time: the display lags and the stream still falls."""
    d = turn.cast.plan.scale.readability
    lead = turn.cast.plan.scale.lag_s + HAND_S
    coming = Mass.nearest(max(0.0, flow_g_s(turn.pan.window, 0.6)) * lead)
    aim = target - (target - low).times(0.1)
    if net > ZERO and net + coming >= aim:
        turn.say_once(Cue.STOP, t("Stop."))
    elif net.mg >= NEAR_PART * target.mg and Cue.STOP not in turn.pan.said:
        turn.say_once(Cue.NEAR, t("Slowly: {target} to go.", target=max(ZERO, target - net).text(d)))


def ask_for_more(turn: Turn, least: Mass, wanted: Mass) -> None:
    """At rest below the window after a stop: ask for the rest, and let the stop sound again."""
    if Cue.STOP in turn.pan.said:
        d = turn.cast.plan.scale.readability
        turn.pan = replace(turn.pan, said=turn.pan.said - {Cue.STOP, Cue.NEAR})
        words = t("A little more: {wanted}, at least {least}.", wanted=wanted.text(d), least=least.text(d))
        turn.say_once(Cue.NEAR, words)


def dying_stream(turn: Turn, low: Mass, high: Mass) -> bool:
    """Whether so much is still to land that the window from `low` to `high` would notice."""
    card = turn.cast.plan.scale
    tolerance = (high - low).mg / 2
    owed = still_owed_mg(turn.pan.window, card, turn.pan.poured_until_s)
    return owed > max(0.15 * tolerance, 0.4 * card.readability.mg)
