"""Events of small trials: what was dealt out, which cast is which of its runs, and its end. A part of `events`.

Never rename a class or a field that has been released: the journal keeps both by name.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class TrialSetting:
    """One factor of a trial and its settings in words, such as "mix time" at "60 s" and "95 s"."""

    name: str
    levels: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TrialRun:
    """Cast `run` of the trial, in block `block` (both from 1): which level of each factor, counted from 0."""

    run: int
    block: int
    levels: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class TrialBegun:
    """Trial `trial` was dealt out: its runs in their order, by `seed`; `half` of all combinations or all of them.

    `response` is the short name of what it looks at. The runs stand here whole, so that no later program deals anew.
    """

    trial: int
    title: str
    settings: tuple[TrialSetting, ...]
    blocks: int
    seed: int
    half: bool
    runs: tuple[TrialRun, ...]
    response: str
    by: str


@dataclass(frozen=True, slots=True)
class TrialCastTaken:
    """Cast number `cast` is run `run` of the trial; it takes the place of one named before."""

    trial: int
    run: int
    cast: int
    by: str


@dataclass(frozen=True, slots=True)
class TrialCastLeft:
    """No cast is run `run` of the trial any more: another one had been meant."""

    trial: int
    run: int
    by: str


@dataclass(frozen=True, slots=True)
class TrialEnded:
    """Nothing more is cast for the trial; `reason` is empty when it was finished."""

    trial: int
    reason: str
    by: str
