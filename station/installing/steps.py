"""Steps: each looks whether it is needed and does it then, so that doing all of them again changes nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Step:
    """`title` says in a sentence what has been done once `do` returns."""

    title: str
    needed: Callable[[], bool]
    do: Callable[[], None]


def carried_out(steps: Iterable[Step], tell: Callable[[str], None]) -> list[str]:
    """Do what is needed, in order, telling each; the titles of what was done. Raises what a step raises."""
    done = []
    for step in steps:
        if step.needed():
            step.do()
            tell(step.title)
            done.append(step.title)
    return done
