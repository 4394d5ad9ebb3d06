"""Leading: the led pour at the bench, from reading to reading. It says pace and stop; nothing is accepted here."""

from __future__ import annotations

from dataclasses import dataclass, replace

from station.core.cues import Cue
from station.core.guidance.pour import Phase, due, fell_short, heard, lesson, rested
from station.core.guidance.task import Strength, Task
from station.core.known_pours import Source, known, learned_from
from station.core.lead import Lead
from station.core.mass import Mass
from station.core.moment import Moment
from station.core.pan import Pan, is_live
from station.core.pouring_events import PourLearned
from station.core.standing import Standing
from station.core.steps import Combine, Weigh
from station.core.turn import Turn
from station.texts import t

LEADS = ((0.85, Lead.TRICKLE), (0.5, Lead.SLOW), (0.05, Lead.EASE), (0.0, Lead.FREE))
"""From which pace on which word is shown."""

SURE_S = 0.5
"""So long after a stop's run-on nobody is asked for more: the hand may still be closing."""


@dataclass(frozen=True, slots=True)
class Aim:
    """What a weighing wants: its window, whose lessons count, and whether what follows can mend an overshoot."""

    target: Mass
    low: Mass
    high: Mass
    source: Source
    mendable: bool


def task_of(turn: Turn, aim: Aim) -> Task:
    """The pour in grams, with as much caution as the settings and the last ingredient ask for."""
    card, strength = turn.card, turn.leading.strength
    if not aim.mendable and strength is Strength.EVEN:
        strength = Strength.CAREFUL
    return Task(aim.target.g, aim.low.g, aim.high.g, card.readability.g, card.lag_s, strength)


def lead(turn: Turn, net: Mass, aim: Aim) -> None:
    """Take in one reading; sound the stop where it is due."""
    task = task_of(turn, aim)
    learned = turn.pan.known or known(turn.standing.pours, aim.source, task)
    pour = heard(turn.pan.pour, turn.now.boot_s, net.g, task, learned)
    turn.pan = replace(turn.pan, pour=pour, known=learned)
    sound_due(turn, aim)


def sound_due(turn: Turn, aim: Aim) -> None:
    """The stop, at its moment: with a reading, or between two of them."""
    stopped = due(turn.pan.pour, turn.now.boot_s, task_of(turn, aim))
    if stopped is not None:
        turn.pan = replace(turn.pan, pour=stopped, said=turn.pan.said | {Cue.STOP})
        turn.say(Cue.STOP, t("Stop."))


def wants_more(turn: Turn, net: Mass, aim: Aim) -> bool:
    """At rest below the window: whether the person is to be asked for more now; then the short pour begins."""
    pour, learned = turn.pan.pour, turn.pan.known
    if learned is None or pour.phase is not Phase.STOPPED or pour.cued is None:
        return False
    if turn.now.boot_s - pour.cued.at_s <= learned.runon.time_s + SURE_S:
        return False
    pour = fell_short(pour, turn.now.boot_s, net.g, task_of(turn, aim), learned)
    turn.pan = replace(turn.pan, pour=pour, said=turn.pan.said - {Cue.STOP, Cue.NEAR})
    return True


def lesson_of(turn: Turn, net: Mass, aim: Aim) -> PourLearned | None:
    """What this pour taught, now that it is over with `net` in the cup; None if no stop was said in it."""
    pour = rested(turn.pan.pour, net.g)
    if not turn.leading.on or pour.first is None:
        return None
    return learned_from(aim.source, aim.target, lesson(pour))


def pace_now(standing: Standing, pan: Pan, now: Moment) -> float | None:
    """How much the hand is to be slowed, 0 to 1; None while no pour is led, or the hand was told to stop."""
    return round(pan.pour.pace, 2) if _led(standing, pan, now) else None


def lead_now(standing: Standing, pan: Pan, now: Moment) -> Lead | None:
    """What is asked of the hand, for those who look; None while no pour is led."""
    if not _leads(standing, pan, now):
        return None
    if pan.pour.phase is Phase.STOPPED:
        return Lead.STOP
    return next(lead for above, lead in LEADS if pan.pour.pace >= above)


def stop_due_s(standing: Standing, pan: Pan, now: Moment) -> float | None:
    """Seconds until a stop is to sound; None while none is set."""
    stop_at_s = pan.pour.stop_at_s
    return None if stop_at_s is None or not _led(standing, pan, now) else max(0.0, stop_at_s - now.boot_s)


def _led(standing: Standing, pan: Pan, now: Moment) -> bool:
    return pan.pour.phase is not Phase.STOPPED and _leads(standing, pan, now)


def _leads(standing: Standing, pan: Pan, now: Moment) -> bool:
    cast = standing.bench
    if cast is None:
        led = pan.practice is not None and not pan.practice.over and pan.practice.level is not None
    else:
        led = not cast.paused and pan.proven and isinstance(cast.step, Weigh | Combine)
    return led and pan.pour.level is not None and is_live(pan, now)
