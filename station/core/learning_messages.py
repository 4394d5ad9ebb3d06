"""Commands of learning: use advice or no longer, deal out a trial, say which cast belongs to it."""

from __future__ import annotations

from dataclasses import dataclass

from station.core.advice_events import AdviceKind
from station.core.trial_events import TrialRun, TrialSetting


@dataclass(frozen=True, slots=True)
class AdoptAdvice:
    """Use this for the next plans; the values are those of `advice_events.AdviceAdopted`."""

    kind: AdviceKind
    mold: str
    material: str
    value: float
    low: float | None
    high: float | None
    from_casts: tuple[int, ...]
    by: str


@dataclass(frozen=True, slots=True)
class DropAdvice:
    """Use it no longer."""

    kind: AdviceKind
    mold: str
    material: str
    by: str


@dataclass(frozen=True, slots=True)
class BeginTrial:
    """Begin a trial as it was dealt out; the values are those of `trial_events.TrialBegun`."""

    title: str
    settings: tuple[TrialSetting, ...]
    blocks: int
    seed: int
    half: bool
    runs: tuple[TrialRun, ...]
    response: str
    by: str


@dataclass(frozen=True, slots=True)
class TakeTrialCast:
    """Cast number `cast` is run `run` of the trial."""

    trial: int
    run: int
    cast: int
    by: str


@dataclass(frozen=True, slots=True)
class LeaveTrialCast:
    """No cast is run `run` any more."""

    trial: int
    run: int
    by: str


@dataclass(frozen=True, slots=True)
class EndTrial:
    """Nothing more is cast for it."""

    trial: int
    reason: str
    by: str


LearningCommand = AdoptAdvice | DropAdvice | BeginTrial | TakeTrialCast | LeaveTrialCast | EndTrial
