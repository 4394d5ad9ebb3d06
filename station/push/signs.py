"""Signs of a fault of the station, and when one has lasted long enough to be worth a message. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import Enum
from typing import Final

from station.core.matters import Matter, Occasion
from station.core.snapshot import ScaleState, Snapshot
from station.texts import t, tn

SETTLED_S: Final = 600.0
"""A fault is over when there was no sign of it for so long: a loose cable is one matter, not twenty."""


class Sign(Enum):
    """What can be wrong. The value is part of the matter's key."""

    SCALE_LOST = "scale lost"
    DAMAGED = "record damaged"
    NOT_WRITTEN = "record not written"
    NO_BACKUP = "no backup"


OCCASION: Final = {
    Sign.SCALE_LOST: Occasion.SCALE,
    Sign.DAMAGED: Occasion.RECORD,
    Sign.NOT_WRITTEN: Occasion.RECORD,
    Sign.NO_BACKUP: Occasion.BACKUP,
}
PATIENCE_S: Final = {Sign.SCALE_LOST: 600.0, Sign.DAMAGED: 0.0, Sign.NOT_WRITTEN: 60.0, Sign.NO_BACKUP: 0.0}

Signs = Mapping[Sign, str]
"""The signs there are now, each with a sentence."""


@dataclass(frozen=True, slots=True)
class Lasting:
    """A sign seen without a break from `since_s` to `last_s` (boot time); `told` once it has lasted long enough."""

    sign: Sign
    words: str
    since_s: float
    last_s: float
    told: bool


def signs_of(seen: Snapshot, damage: str, no_backup: str) -> dict[Sign, str]:
    """The signs at this moment. A scale that is off while nobody casts is none. `damage`, `no_backup`: sentences."""
    found: dict[Sign, str] = {}
    if seen.bench is not None and seen.scale.state in (ScaleState.LOST, ScaleState.TROUBLE, ScaleState.BLANK):
        lost = t("Cast {number} is in hand and the scale is lost.", number=seen.bench.number)
        found[Sign.SCALE_LOST] = f"{lost} {seen.scale.words}".strip()
    if damage:
        found[Sign.DAMAGED] = t("{damage} The bench goes on from memory; restore it on the page Record.", damage=damage)
    elif seen.unsaved:
        found[Sign.NOT_WRITTEN] = tn(
            "The record is not written: {n} entry waits in memory.",
            "The record is not written: {n} entries wait in memory.",
            seen.unsaved,
        )
    if no_backup:
        found[Sign.NO_BACKUP] = no_backup
    return found


def watched(before: tuple[Lasting, ...], signs: Signs, now_s: float) -> tuple[Lasting, ...]:
    """What lasts at `now_s`, in the order of `Sign`."""
    known = {one.sign: one for one in before}
    after = []
    for sign in Sign:
        one, words = known.get(sign), signs.get(sign)
        if words is not None:
            since_s = now_s if one is None else one.since_s
            told = (one is not None and one.told) or now_s - since_s >= PATIENCE_S[sign]
            after.append(Lasting(sign, words, since_s, now_s, told))
        elif one is not None and one.told and now_s - one.last_s < SETTLED_S:
            after.append(one)
    return tuple(after)


def remembered(keys: Iterable[str], now_s: float) -> tuple[Lasting, ...]:
    """What an earlier run has told, by the keys of its matters: it lasts until it has settled in this run."""
    kept = frozenset(keys)
    return tuple(Lasting(sign, "", now_s, now_s, True) for sign in Sign if sign.value in kept)


def fault_matters(lasting: Iterable[Lasting], signs: Signs) -> tuple[Matter, ...]:
    """Every fault worth a message."""
    return tuple(
        Matter(one.sign.value, OCCASION[one.sign], one.words, one.sign in signs) for one in lasting if one.told
    )
