"""The bench as one value, and the one function that changes it: `step(bench, message, now)`."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import assert_never

from station.core import events as ev
from station.core import messages as msg
from station.core.alarms import raise_due
from station.core.beginning import begin, begin_next, begins_next, take
from station.core.cast_orders import on_order
from station.core.cues import Cue
from station.core.effects import Effect, Say
from station.core.fold import replayed
from station.core.gaps import keep_told, settle, tell_gap, tell_time
from station.core.guidance.task import Leading
from station.core.judging import on_judging
from station.core.judging_messages import JudgingCommand, TakePart
from station.core.lanes import Lane
from station.core.learning import on_learning
from station.core.learning_messages import LearningCommand
from station.core.mold_orders import order_mold
from station.core.moment import Moment
from station.core.pan import Link, Pan, forgotten, with_reading
from station.core.parts import take_by_press, take_part, takes_part
from station.core.photos import add_photo, remove_photo
from station.core.pouring_messages import PouringCommand
from station.core.practice import on_pouring
from station.core.presses import pressed
from station.core.queueing import drop, enqueue, move
from station.core.rest import flicker_mg
from station.core.snapshot import CueView
from station.core.standing import Standing
from station.core.turn import LED, Turn
from station.core.weighing import on_reading, on_tick
from station.core.wording import title
from station.errors import Refused
from station.texts import t


@dataclass(frozen=True, slots=True)
class Bench:
    """All there is: what the journal says, what the pan suggests, and how the record fares.

    `record_fault` is a sentence while the disk does not take entries, `unsaved` how many wait in memory. `lane`:
    which cast numbers are this bench's own where several share one log. `leading`: how pours are led.
    """

    standing: Standing = field(default_factory=Standing)
    pan: Pan = field(default_factory=Pan)
    last_cue: CueView | None = None
    record_fault: str = ""
    unsaved: int = 0
    lane: Lane | None = None
    leading: Leading = LED


def resumed(entries: Iterable[ev.Entry]) -> Bench:
    """The bench as the journal leaves it; the pan knows nothing yet."""
    return Bench(replayed(entries))


def step(bench: Bench, message: msg.Message, now: Moment) -> tuple[Bench, tuple[Effect, ...]]:
    """What `message`, true at `now`, makes of the bench, and what is to be done about it.

    Pure. Raises Refused when a person asks for what makes no sense now; then nothing has changed.
    """
    turn = Turn(bench.standing, bench.pan, now, bench.leading)
    match message:
        case msg.RecordTrouble(why=why, waiting=waiting):
            bench = replace(bench, record_fault=why, unsaved=waiting)
        case msg.RecordBack():
            bench = replace(bench, record_fault="", unsaved=0)
        case _:
            _work(turn, message, bench.lane)
    settle(turn)
    raise_due(turn)
    effects = _with_what_next(bench.standing, turn)
    return replace(bench, standing=turn.standing, pan=turn.pan, last_cue=_latest(bench.last_cue, effects)), effects


def _with_what_next(before: Standing, turn: Turn) -> tuple[Effect, ...]:
    """When a step begins, the last cue also says what is to be done in it."""
    was, cast = before.bench, turn.standing.bench
    effects = tuple(turn.effects)
    if cast is None or (was is not None and (was.number, was.position) == (cast.number, cast.position)):
        return effects
    last_say = max((i for i, effect in enumerate(effects) if isinstance(effect, Say)), default=None)
    if last_say is None:
        return effects
    say = effects[last_say]
    assert isinstance(say, Say)
    words = f"{say.words} {title(cast, turn.pan)}.".replace("?.", "?").strip()
    return (*effects[:last_say], replace(say, words=words), *effects[last_say + 1 :])


def _latest(cue: CueView | None, effects: tuple[Effect, ...]) -> CueView | None:
    for effect in effects:
        if isinstance(effect, Say):
            words = effect.words or t(effect.cue.value)
            cue = CueView(effect.cue, words, 1 if cue is None else cue.count + 1)
    return cue


def _work(turn: Turn, message: msg.Message, lane: Lane | None) -> None:
    match message:
        case msg.Reading():
            busy = turn.standing.bench is not None or turn.pan.practice is not None
            flicker = flicker_mg(turn.card) if busy else 0
            turn.pan = with_reading(turn.pan, message, turn.now, flicker)
            on_reading(turn)
        case msg.NoLoad(trouble=trouble):
            turn.pan = replace(forgotten(turn.pan), link=Link(None, trouble, turn.pan.link.frames + 1), at=turn.now)
        case msg.ScaleLost(why=why):
            if turn.standing.bench is not None and turn.pan.link.lost is None:
                turn.say(Cue.NO_SCALE, t("No scale. {why}", why=why))
            turn.pan = replace(forgotten(turn.pan), link=replace(turn.pan.link, lost=why))
        case msg.ScaleFound():
            turn.pan = replace(forgotten(turn.pan), link=replace(turn.pan.link, lost=None, trouble=None))
        case msg.Tick():
            on_tick(turn)
        case msg.Temperature(celsius=celsius):
            if celsius != turn.standing.temperature_c:
                turn.record(ev.TemperatureNoted(celsius))
        case msg.Humidity(percent=percent):
            if percent != turn.standing.humidity_percent:
                turn.record(ev.HumidityNoted(percent))
        case msg.Started(last_seen=last_seen, version=version):
            turn.record(ev.StationStarted(last_seen, version))
            keep_told(turn)
        case msg.Pressed() if takes_part(turn, message):
            take_by_press(turn, message)
        case msg.Pressed() if begins_next(turn, message):
            begin_next(turn, message, lane)
        case msg.Pressed():
            pressed(turn, message)
        case msg.QueueCast():
            enqueue(turn, message)
        case msg.MoveQueued():
            move(turn, message)
        case msg.DropQueued():
            drop(turn, message)
        case msg.TakeQueued():
            take(turn, message, lane)
        case msg.TellGap():
            tell_gap(turn, message)
        case msg.TellTime():
            tell_time(turn, message)
        case msg.Restored(rows=rows, lost=lost, base=base, set_aside=aside, by=by):
            turn.record(ev.RecordRestored(rows, lost, base, aside, by))
        case msg.SeeRestoring(by=by):
            if turn.standing.restored is None:
                raise Refused(t("There is nothing to confirm about the record."))
            turn.record(ev.RestoringSeen(by))
        case msg.ApplyRelease() | msg.RetireMold() | msg.ReturnMold():
            order_mold(turn, message)
        case msg.AddPhoto():
            add_photo(turn, message)
        case msg.RemovePhoto():
            remove_photo(turn, message)
        case msg.BeginCast(plan=plan, by=by):
            begin(turn, plan, by, lane)
        case msg.Abort() | msg.Acknowledge() | msg.Demold() | msg.AddNote() | msg.CountLot():
            on_order(turn, message)
        case msg.RecordTrouble() | msg.RecordBack():
            pass
        case TakePart():
            take_part(turn, message)
        case _ if isinstance(message, JudgingCommand):
            on_judging(turn, message)
        case _ if isinstance(message, PouringCommand):
            on_pouring(turn, message)
        case _ if isinstance(message, LearningCommand):
            on_learning(turn, message)
        case _:
            assert_never(message)
