"""What the events of advice and trials make of the durable state. A part of `fold`."""

from __future__ import annotations

from dataclasses import replace
from typing import assert_never

from station.core.advice_events import AdviceAdopted, AdviceDropped, AdviceKind
from station.core.events import LearningEvent
from station.core.learning_standing import TRIALS_KEPT, Trial
from station.core.standing import Standing
from station.core.trial_events import TrialBegun, TrialCastLeft, TrialCastTaken, TrialEnded

SHOTS = (AdviceKind.SHOT, AdviceKind.MIX)


def learned_after(standing: Standing, event: LearningEvent) -> Standing:
    """The state after one of them; one about a trial that is not known changes nothing."""
    match event:
        case AdviceAdopted():
            return replace(standing, adopted=(*_without(standing, event), event))
        case AdviceDropped():
            return replace(standing, adopted=_without(standing, event))
        case TrialBegun(trial=number):
            trials = (*standing.trials, Trial(event))
            return replace(standing, trials=_kept(trials), last_trial=max(number, standing.last_trial))
        case TrialCastTaken(trial=number, run=run, cast=cast):
            return _changed(standing, number, run, cast)
        case TrialCastLeft(trial=number, run=run):
            return _changed(standing, number, run, None)
        case TrialEnded(trial=number, reason=reason):
            return replace(
                standing,
                trials=tuple(
                    replace(one, ended=True, reason=reason) if one.number == number else one for one in standing.trials
                ),
            )
        case _:
            assert_never(event)


def _without(standing: Standing, event: AdviceAdopted | AdviceDropped) -> tuple[AdviceAdopted, ...]:
    """What is adopted besides; a shot and a mass mixed are two words for one thing."""
    kinds = SHOTS if event.kind in SHOTS else (event.kind,)
    return tuple(
        one
        for one in standing.adopted
        if (one.mold, one.material) != (event.mold, event.material) or one.kind not in kinds
    )


def _kept(trials: tuple[Trial, ...]) -> tuple[Trial, ...]:
    """All that are open, and of the ended ones the newest as far as there is room."""
    over = len(trials) - TRIALS_KEPT
    gone = {one.number for one in [one for one in trials if one.ended][: max(0, over)]}
    return tuple(one for one in trials if one.number not in gone)


def _changed(standing: Standing, number: int, run: int, cast: int | None) -> Standing:
    def with_cast(trial: Trial) -> Trial:
        others = tuple(pair for pair in trial.casts if pair[0] != run)
        return replace(trial, casts=tuple(sorted((*others, *(() if cast is None else ((run, cast),))))))

    return replace(standing, trials=tuple(with_cast(one) if one.number == number else one for one in standing.trials))
