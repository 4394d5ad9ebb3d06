"""Learning at the bench: advice is used or no longer, trials begin, get their casts and end, unless that cannot be."""

from __future__ import annotations

import math
from typing import assert_never

from station.core import events as ev
from station.core import learning_messages as say
from station.core.learning_standing import Trial
from station.core.turn import Turn
from station.errors import Refused
from station.texts import t

MOST_OPEN = 6
"""More trials at once are none: each of them wants all else to stay alike."""


def on_learning(turn: Turn, told: say.LearningCommand) -> None:
    """Let it be a fact. Raises Refused, with a sentence, when it cannot be one."""
    match told:
        case say.AdoptAdvice():
            _adopt(turn, told)
        case say.DropAdvice(kind=kind, mold=mold, material=material, by=by):
            key = (kind, mold, material)
            if key not in {(one.kind, one.mold, one.material) for one in turn.standing.adopted}:
                raise Refused(t("Plans do not use that advice."), t("Look at the page Advice again."))
            turn.record(ev.AdviceDropped(kind, mold, material, by))
        case say.BeginTrial():
            _begin(turn, told)
        case say.TakeTrialCast():
            _take(turn, told)
        case say.LeaveTrialCast(trial=number, run=run, by=by):
            trial = _open_trial(turn, number)
            if trial.cast_of(run) is None:
                raise Refused(t("Run {run} has no cast.", run=run), t("Look at the trial again."))
            turn.record(ev.TrialCastLeft(number, run, by))
        case say.EndTrial(trial=number, reason=reason, by=by):
            trial = _open_trial(turn, number)
            if trial.next_run is not None and not reason.strip():
                raise Refused(
                    t("Run {run} has no cast yet.", run=trial.next_run.run),
                    t("Say why the trial ends before it is finished; the reason is kept in the record."),
                )
            turn.record(ev.TrialEnded(number, reason.strip(), by))
        case _:
            assert_never(told)


def _adopt(turn: Turn, told: say.AdoptAdvice) -> None:
    ends = [end for end in (told.low, told.high) if end is not None]
    if not all(math.isfinite(value) for value in (told.value, *ends)) or told.value <= 0:
        raise Refused(t("Advice must be a number above zero."), t("Look at the page Advice again."))
    turn.record(
        ev.AdviceAdopted(told.kind, told.mold, told.material, told.value, told.low, told.high, told.from_casts, told.by)
    )


def _begin(turn: Turn, told: say.BeginTrial) -> None:
    if sum(not one.ended for one in turn.standing.trials) >= MOST_OPEN:
        raise Refused(t("{most} trials are open.", most=MOST_OPEN), t("End one of them first."))
    if not told.title.strip():
        raise Refused(t("The trial has no name."), t("A few words: what it is to find out."))
    number = turn.standing.last_trial + 1
    turn.record(
        ev.TrialBegun(
            number,
            told.title.strip(),
            told.settings,
            told.blocks,
            told.seed,
            told.half,
            told.runs,
            told.response,
            told.by,
        )
    )


def _take(turn: Turn, told: say.TakeTrialCast) -> None:
    trial = _open_trial(turn, told.trial)
    if not 1 <= told.run <= len(trial.begun.runs):
        raise Refused(
            t("The trial has no run {run}.", run=told.run), t("Its runs are 1 to {most}.", most=len(trial.begun.runs))
        )
    if not 1 <= told.cast <= turn.standing.last_number:
        raise Refused(t("There is no cast {number} yet.", number=told.cast), t("Its number stands on the part."))
    other = next((run for run, cast in trial.casts if cast == told.cast and run != told.run), None)
    if other is not None:
        raise Refused(
            t("Cast {number} is run {run} of this trial already.", number=told.cast, run=other),
            t("Take it from there first."),
        )
    turn.record(ev.TrialCastTaken(told.trial, told.run, told.cast, told.by))


def _open_trial(turn: Turn, number: int) -> Trial:
    trial = next((one for one in turn.standing.trials if one.number == number), None)
    if trial is None or trial.ended:
        raise Refused(t("Trial {number} is not open.", number=number), t("Look at the page Trials again."))
    return trial
