"""What a person tells the bench of a mold. A part of `messages`."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ApplyRelease:
    """Release agent was put on the mold with this key."""

    mold: str
    by: str


@dataclass(frozen=True, slots=True)
class RetireMold:
    """Cast in the mold with this key no more; `reason` is for the record."""

    mold: str
    reason: str
    by: str


@dataclass(frozen=True, slots=True)
class ReturnMold:
    """The mold with this key, retired before, is cast in again."""

    mold: str
    by: str


MoldCommand = ApplyRelease | RetireMold | ReturnMold
