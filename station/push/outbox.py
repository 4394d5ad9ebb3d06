"""The outbox: which message goes to which address next, when it is tried again, and what came of it. Pure.

A letter is one matter for one address. It is written once for as long as the matter lasts, so nothing is sent twice;
when the matter ends before the letter was sent, the letter is withdrawn.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from typing import Final

from station.core.matters import Matter, Occasion

GAPS_S: Final = (15.0, 30.0, 60.0, 120.0, 240.0, 480.0, 855.0)
"""Between two attempts; together half an hour."""
MOST: Final = 200
"""Letters at a time. What has no room is written when there is some, if it is still true."""


class Stage(Enum):
    """Where a letter stands."""

    WAITING = "waiting"
    UNDER_WAY = "under way"
    SENT = "sent"
    GIVEN_UP = "given up"


DONE: Final = frozenset({Stage.SENT, Stage.GIVEN_UP})


@dataclass(frozen=True, slots=True)
class Letter:
    """A matter on its way to an address, both by their keys. `tries` have failed; the next is due at `due_s`."""

    matter: str
    to: str
    stage: Stage = Stage.WAITING
    tries: int = 0
    due_s: float = 0.0


Letters = tuple[Letter, ...]


def looked_through(
    letters: Letters, matters: Sequence[Matter], chosen: Collection[Occasion], to: Sequence[str], now_s: float
) -> Letters:
    """The outbox once it is known what is true now: letters are written and withdrawn."""
    true = {matter.key: matter for matter in matters}
    kept = [one for one in letters if _stays(one, true.get(one.matter), chosen, to)]
    there = {(one.matter, one.to) for one in kept}
    new = (
        Letter(matter.key, address, due_s=now_s)
        for matter in matters
        if matter.live and matter.words and matter.occasion in chosen
        for address in to
        if (matter.key, address) not in there
    )
    kept.extend(letter for letter, _ in zip(new, range(MOST - len(kept)), strict=False))
    return tuple(kept)


def _stays(letter: Letter, matter: Matter | None, chosen: Collection[Occasion], to: Collection[str]) -> bool:
    if letter.stage is Stage.UNDER_WAY:
        return True  # it is withdrawn, or not, when it comes back
    if matter is None or letter.to not in to:
        return False
    return letter.stage in DONE or matter.occasion in chosen


def next_due(letters: Letters, matters: Iterable[Matter], now_s: float, *, quiet: bool) -> Letter | None:
    """The letter to try now; None when there is none, or all is quiet. One at a time goes to an address."""
    if quiet:
        return None
    order = {matter.key: place for place, matter in enumerate(matters) if matter.live and matter.words}
    busy = {one.to for one in letters if one.stage is Stage.UNDER_WAY}
    ready = [
        one
        for one in letters
        if one.stage is Stage.WAITING and one.due_s <= now_s and one.matter in order and one.to not in busy
    ]
    # What was tried least goes first: an address that fails does not keep others waiting.
    return min(ready, key=lambda one: (one.tries, order[one.matter]), default=None)


def begun(letters: Letters, letter: Letter) -> Letters:
    """This letter is under way."""
    return _put(letters, replace(letter, stage=Stage.UNDER_WAY))


def come_back(letters: Letters, letter: Letter, *, taken: bool, now_s: float) -> Letters:
    """The attempt with this letter has ended: it was taken, or it waits for another attempt, or is given up."""
    if taken:
        return _put(letters, replace(letter, stage=Stage.SENT))
    tries = letter.tries + 1
    if tries > len(GAPS_S):
        return _put(letters, replace(letter, stage=Stage.GIVEN_UP, tries=tries))
    return _put(letters, replace(letter, stage=Stage.WAITING, tries=tries, due_s=now_s + GAPS_S[tries - 1]))


def _put(letters: Letters, letter: Letter) -> Letters:
    return tuple(letter if (one.matter, one.to) == (letter.matter, letter.to) else one for one in letters)


def waiting_for(letters: Letters, to: str) -> int:
    """How many letters to this address are not sent yet."""
    return sum(one.to == to and one.stage not in DONE for one in letters)


def lost_matters(letters: Letters) -> tuple[str, ...]:
    """The matters of which every letter was given up."""
    keys = dict.fromkeys(one.matter for one in letters)
    return tuple(key for key in keys if all(one.stage is Stage.GIVEN_UP for one in letters if one.matter == key))
