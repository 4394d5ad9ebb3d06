"""Steps of a cast, each a type of its own; a cast is a tuple of them and a position.

The tuple is a fact: when an overshoot changes what is left to weigh, the changed tuple is written down
whole, so a replay needs no arithmetic.
"""

from __future__ import annotations

from dataclasses import dataclass

from station.core.mass import ZERO, Mass


@dataclass(frozen=True, slots=True)
class ReadyCheck:
    """Everything within reach before first contact; said, and confirmed by one press."""

    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlaceCup:
    """Put down the cup called `cup`. `again` means it was tared before and must be recognised by its weight."""

    cup: str
    again: bool = False


@dataclass(frozen=True, slots=True)
class Weigh:
    """Pour `ingredient` into `cup` until `low` ≤ net ≤ `high`.

    `already` is what of this ingredient lies in the cup from an earlier step (a top-up after an
    overshoot); target, low and high say only what is still to pour. `reactive` marks the pour with which
    first contact comes. `rule` shows inputs and formula of the target in words.
    """

    ingredient: str
    cup: str
    target: Mass
    low: Mass
    high: Mass
    reactive: bool = False
    already: Mass = ZERO
    rule: str = ""


@dataclass(frozen=True, slots=True)
class PreMix:
    """Stir the additive into its component for at least `seconds`; a press goes on."""

    ingredient: str
    cup: str
    seconds: float


@dataclass(frozen=True, slots=True)
class Combine:
    """Pour cup `source` into cup `cup` on the scale; mass gained = mass transferred. First contact comes here."""

    source: str
    cup: str
    target: Mass
    low: Mass
    high: Mass
    rule: str = ""


@dataclass(frozen=True, slots=True)
class Mix:
    """Mix at least `seconds`, and no longer than the pour-by alarm; a press goes on to pouring."""

    seconds: float


@dataclass(frozen=True, slots=True)
class Pour:
    """Pour into the mold; a press says that it is poured."""


@dataclass(frozen=True, slots=True)
class Close:
    """Close and clamp; a press says that it is closed."""


@dataclass(frozen=True, slots=True)
class WeighEmptied:
    """Put the emptied `cup` back on the scale so that the station learns what stays in it; a press skips it.

    `mix`: it is the cup that the mix was poured from, else one that held a single component.
    """

    cup: str
    mix: bool = False


@dataclass(frozen=True, slots=True)
class Cure:
    """The cast leaves the bench; its clocks run. The bench is free for the next cast."""


Step = ReadyCheck | PlaceCup | Weigh | PreMix | Combine | Mix | Pour | Close | WeighEmptied | Cure
