"""Events of the molds: release agent, and being cast in no more. Shots need none: each is a pour of a cast.

Never rename a class or a field that has been released: the journal keeps both by name.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ReleaseApplied:
    """Release agent was put on the mold with this key."""

    mold: str
    by: str


@dataclass(frozen=True, slots=True)
class MoldRetired:
    """The mold is cast in no more; `reason` is a person's."""

    mold: str
    reason: str
    by: str


@dataclass(frozen=True, slots=True)
class MoldReturned:
    """The mold that was retired is cast in again."""

    mold: str
    by: str
