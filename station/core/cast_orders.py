"""Orders about casts that are open, and lots: give up, acknowledge, take out of the mold, note, count."""

from __future__ import annotations

from station.core import events as ev
from station.core import messages as msg
from station.core.clocks import AlarmState, ClockKind
from station.core.cues import Cue
from station.core.mass import ZERO
from station.core.presses import acknowledge
from station.core.steps import Mix, Pour
from station.core.turn import Turn
from station.errors import Refused
from station.texts import t

CastOrder = msg.Abort | msg.Acknowledge | msg.Demold | msg.AddNote | msg.CountLot


def on_order(turn: Turn, order: CastOrder) -> None:
    """Do what a page or the command line orders. Raises Refused where that makes no sense now."""
    match order:
        case msg.CountLot():
            _count(turn, order)
        case msg.Abort(number=number, reason=reason, by=by):
            _known(turn, number)
            if not reason.strip():
                raise Refused(t("Say why the cast is given up."), t("The reason is kept in its record."))
            turn.record(ev.Aborted(number, reason.strip(), by))
            turn.say(Cue.LOST, t("Cast {number} given up: {reason}", number=number, reason=reason.strip()))
        case msg.Acknowledge(number=number, clock=kind, by=by):
            _acknowledge(turn, number, kind, by)
        case msg.Demold(number=number, by=by):
            _demold(turn, number, by)
        case msg.AddNote(number=number, text=text, by=by):
            _known(turn, number)
            if not text.strip():
                raise Refused(t("The note is empty."), t("Write a few words."))
            turn.record(ev.Noted(number, text.strip(), by))


def _count(turn: Turn, count: msg.CountLot) -> None:
    if not count.lot.strip():
        raise Refused(t("The number of the lot is empty."), t("It stands on the container."))
    if count.empty < ZERO or count.gross < count.empty:
        raise Refused(
            t(
                "A container that weighs {empty} empty cannot weigh {gross} now.",
                empty=count.empty.text(),
                gross=count.gross.text(),
            ),
            t("Weigh it again, lid and all as when it was empty."),
        )
    turn.record(ev.LotCounted(count.lot.strip(), count.gross, count.empty, count.gross - count.empty, count.by))


def _known(turn: Turn, number: int) -> None:
    if turn.standing.cast(number) is None:
        raise Refused(t("There is no open cast {number}.", number=number), t("Look it up in the log."))


def _acknowledge(turn: Turn, number: int, kind: ClockKind, by: str) -> None:
    _known(turn, number)
    cast = turn.standing.cast(number)
    assert cast is not None
    clock = cast.clock(kind)
    if clock is not None and clock.state is AlarmState.ACKNOWLEDGED and clock.acknowledged_by:
        raise Refused(
            t(
                "The {kind} alarm of cast {number} was already acknowledged by {acknowledged_by}.",
                kind=t(kind.value),
                number=number,
                acknowledged_by=clock.acknowledged_by,
            )
        )
    if clock is None or clock.state is not AlarmState.SOUNDING:
        raise Refused(t("No {kind} alarm of cast {number} sounds.", kind=t(kind.value), number=number))
    acknowledge(turn, cast, clock, by)


def _demold(turn: Turn, number: int, by: str) -> None:
    _known(turn, number)
    cast = turn.standing.cast(number)
    assert cast is not None
    if cast.at_bench and (cast.poured is None or isinstance(cast.step, Mix | Pour)):
        raise Refused(t("Cast {number} has not been poured yet.", number=number))
    if cast.demolded:
        raise Refused(t("Cast {number} is out of its mold already.", number=number))
    clock = cast.clock(ClockKind.DEMOLD)
    if clock is not None and clock.state is AlarmState.SOUNDING:
        acknowledge(turn, cast, clock, by)
    turn.record(ev.Demolded(number, by))
