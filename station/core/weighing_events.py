"""Events of weighing: cups and what was poured into them.

Never rename a class or a field that has been released: the journal keeps both by name.
"""

from __future__ import annotations

from dataclasses import dataclass

from station.core.mass import ZERO, Mass
from station.core.moment import Moment
from station.core.steps import Step


@dataclass(frozen=True, slots=True)
class CupTared:
    """Cup `cup` stands on the pan, empty, and weighs `tare`."""

    number: int
    cup: str
    tare: Mass


@dataclass(frozen=True, slots=True)
class CupRecognised:
    """Cup `cup` is back on the pan; `gross` is its reading. `unseen` is what was poured while nobody looked."""

    number: int
    cup: str
    gross: Mass
    unseen: Mass = ZERO


@dataclass(frozen=True, slots=True)
class FirstContact:
    """Reactive components met at `at` (the first reading that rose). Pot life and cure run from there."""

    number: int
    at: Moment
    how: str


@dataclass(frozen=True, slots=True)
class Accepted:
    """`net` of `ingredient` was accepted in its window, at rest and no longer flowing; `gross` was on the pan.

    `trace` is the digest of the weighing's trace, empty when none was kept or, in an older record, none was taken.
    """

    number: int
    step: int
    ingredient: str
    cup: str
    net: Mass
    target: Mass
    low: Mass
    high: Mass
    gross: Mass
    trace: str = ""


@dataclass(frozen=True, slots=True)
class Reopened:
    """More of `ingredient` arrived after it had been accepted; its step is open again."""

    number: int
    step: int
    ingredient: str
    gross: Mass


@dataclass(frozen=True, slots=True)
class Combined:
    """`gained` was transferred from cup `source`; `within` says whether that keeps the ratio tolerance.

    `trace` as for a weighing.
    """

    number: int
    step: int
    source: str
    gained: Mass | None
    target: Mass
    within: bool
    gross: Mass | None
    trace: str = ""


@dataclass(frozen=True, slots=True)
class Recomputed:
    """`over` too much of `ingredient`: the cast goes on with these steps (the earlier ones unchanged)."""

    number: int
    ingredient: str
    net: Mass
    over: Mass
    total: Mass
    steps: tuple[Step, ...]
    words: str


@dataclass(frozen=True, slots=True)
class EmptiedCupWeighed:
    """`residue` clung to the emptied `cup` of component `ingredient` that had held `held`."""

    number: int
    cup: str
    ingredient: str
    residue: Mass
    held: Mass


@dataclass(frozen=True, slots=True)
class MixCupWeighed:
    """`residue` of `mixed` stayed in the cup that was poured into the mold; `capacity` is that cup's size."""

    number: int
    cup: str
    residue: Mass
    mixed: Mass
    capacity: Mass
