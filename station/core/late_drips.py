"""Late drips: single drops look like rest, so a weighing is still watched for a while after it.

Drops only ever add, and what they added stays. A hand that stirs goes up and down.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from station.core import events as ev
from station.core.cues import Cue
from station.core.emptiness import recognition_mg, watch_empty
from station.core.mass import Mass
from station.core.material import ScaleCard
from station.core.rest import at_rest, flicker_mg, settle_s
from station.core.steps import Combine, Weigh
from station.core.turn import Turn
from station.texts import t

LATE_DRIP_S = 10.0
"""A drop that falls so soon after the accept counts; it is at rest a little later."""

JUG_CHANGED_S = 5.0
"""Sooner after an accept nobody has set one jug down and begun to pour from the next (common practice, no source)."""

DRIPS = Mass(2000)

STRUCK_S = 1.0
"""A table that is struck has calmed down by then, seen through a scale's filter: what falls later again is a hand."""

CALM_S = 2.0
"""So long before a drop nothing has come down: else the load may rest in a hand."""


def drip_mg(step: Combine | Weigh, card: ScaleCard) -> int:
    """The most that late drops of the step before may weigh; more than that somebody has poured.

    2 g or 20 steps (common practice, no source), but never more than a quarter of what comes next: a small
    dose of a catalyst must not pass for a drip.
    """
    return min(max(20 * card.readability.mg, DRIPS.mg), step.low.mg // 4)


def least_drip_mg(turn: Turn, low: Mass, high: Mass) -> int:
    """The least that counts as more: a step more than the scale flickers by, and a quarter of the tolerance."""
    card = turn.cast.plan.scale
    return max(flicker_mg(card) + card.readability.mg, (high - low).mg // 8)


def late_drip(turn: Turn, load: Mass, most_mg: int) -> None:
    """A rise up to `most_mg` soon after the accept opens the weighing again."""
    taken = _just_taken(turn, LATE_DRIP_S)
    if taken is not None and least_drip_mg(turn, taken.low, taken.high) <= (load - taken.gross).mg <= most_mg:
        _open_again(turn, taken, load)


def drip_of_before(turn: Turn, step: Weigh) -> bool:
    """Whether the last ingredient dripped on into the cup that `step` weighs into, too; then it is opened again.

    Else the drops would pass for the next ingredient, and that would be short of them: so here also less counts,
    what a quarter of the next one's tolerance notices. What flows, or came when the next could be poured, is the next.
    """
    taken = _just_taken(turn, JUG_CHANGED_S)
    cup = turn.cast.cup(step.cup)
    if taken is None or cup is None or taken.cup != step.cup or cup.level != taken.gross:
        return False
    load = at_rest(turn.pan.window, turn.card)
    if load is None or _in_a_hand(turn):
        return False
    least = min(least_drip_mg(turn, taken.low, taken.high), least_drip_mg(turn, step.low, step.high))
    if not least <= (load - taken.gross).mg <= drip_mg(step, turn.card):
        return False
    _open_again(turn, taken, load)
    return True


def _just_taken(turn: Turn, within_s: float) -> ev.Accepted | None:
    """What the step before the present one accepted, if that was so many seconds ago or less."""
    accepted = turn.cast.accepted
    if not accepted or accepted[-1].step + 1 != turn.cast.position or not _soon(turn, within_s):
        return None
    return accepted[-1]


def _open_again(turn: Turn, taken: ev.Accepted, load: Mass) -> None:
    cast = turn.cast
    turn.record(ev.Reopened(cast.number, taken.step, taken.ingredient, load))
    turn.pan = replace(turn.pan, proven=True)
    more_words = (load - taken.gross).text(cast.plan.scale.readability)
    turn.say(
        Cue.OVER,
        t(
            "{more_words} more {ingredient} dripped in: it is weighed again.",
            more_words=more_words,
            ingredient=taken.ingredient,
        ),
    )


def watch_stirring(turn: Turn, most_mg: int | None = None) -> None:
    """The cup just weighed is to be stirred: while it still stands there, drops may come, up to `most_mg` of them.

    More than half a gram, or half of the tolerance, is no drop but a stick.
    """
    watch_empty(turn)
    if turn.pan.emptied or not _soon(turn):
        return
    load = at_rest(turn.pan.window, turn.card)
    if load is None or _in_a_hand(turn):
        return
    before = turn.cast.steps[turn.cast.position - 1]
    if not isinstance(before, Combine | Weigh):
        return
    most = max(recognition_mg(turn.card), 2 * least_drip_mg(turn, before.low, before.high))
    most = most if most_mg is None else min(most, most_mg)
    if isinstance(before, Combine):
        _combined_on(turn, before, load, most)
    else:
        late_drip(turn, load, most)


def falls_s(trace: Iterable[tuple[float, int]], least_mg: int) -> tuple[float, ...]:
    """When the load came down by `least_mg` or more from a height, having risen by as much in between."""
    found: list[float] = []
    high, low, falling = None, None, False
    for at_s, mg in trace:
        high = mg if high is None else max(high, mg)
        low = mg if low is None else min(low, mg)
        if falling and mg - low >= least_mg:
            falling, high = False, mg
        elif not falling and high - mg >= least_mg:
            falling, low = True, mg
            found.append(at_s)
    return tuple(found)


def _in_a_hand(turn: Turn) -> bool:
    """Whether a hand has moved the load since the step began, or may hold it now; where that rests, it is no drop."""
    fell = falls_s(turn.pan.trace, 2 * flicker_mg(turn.card))
    if not fell:
        return False
    calm_s = CALM_S + settle_s(turn.card)
    return fell[-1] - fell[0] > STRUCK_S or turn.now.boot_s - fell[-1] < calm_s


def _combined_on(turn: Turn, step: Combine, load: Mass, most_mg: int) -> None:
    """Drops of the emptied cup after the transfer was over: what they add is put down beside it."""
    cast, d = turn.cast, turn.card.readability
    cup = cast.cup(step.cup)
    if cup is None:
        return
    more = load - cup.level
    if not least_drip_mg(turn, step.low, step.high) <= more.mg <= most_mg:
        return
    gained = load - cup.tare - cup.held
    within = step.low <= gained <= step.high
    turn.record(ev.Combined(cast.number, cast.position - 1, step.source, more, step.target, within, load))
    words = t("{more} more dripped in: {gained} transferred.", more=more.text(d), gained=gained.text(d))
    turn.say(Cue.ACCEPTED if within else Cue.OVER, words)


def _soon(turn: Turn, within_s: float = LATE_DRIP_S) -> bool:
    since, card = turn.cast.since, turn.cast.plan.scale
    watched_s = within_s + card.lag_s + settle_s(card)
    return turn.now.boot_id == since.boot_id and turn.now.boot_s - since.boot_s <= watched_s
