"""Pulse: a count that rises while a thread makes progress, and for how long it has stood still."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

BENCH_SILENCE_S = 12.0
"""The bench loop turns four times a second; a board that is short of memory may hold it up for seconds."""


@dataclass(frozen=True, slots=True)
class Pulse:
    """`beats` is a count that rises with each turn of a thread's work; any thread may read it.

    `silence_s`: for how many seconds it may stand still, as things are now.
    """

    name: str
    beats: Callable[[], int]
    silence_s: Callable[[], float]


@dataclass(frozen=True, slots=True)
class Heard:
    """What a look at a pulse found: how many beats, and for how many seconds there have been no more."""

    beats: int
    silent_s: float


def heard(last: Heard, beats: int, gone_s: float) -> Heard:
    """The next finding, `gone_s` seconds after the last one."""
    return Heard(beats, 0.0 if beats != last.beats else last.silent_s + gone_s)
