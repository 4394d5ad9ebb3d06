"""What the page Station is given: how each part fares, where a phone finds the page, and what may be asked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Protocol

from station.drawing.marks import Drawing
from station.texts import N_, t, tn


class Fare(Enum):
    """How a part fares, the worst first. The value is that in a word or two."""

    WRONG = N_("wrong")
    LOOK = N_("needs a look")
    UNKNOWN = N_("not known here")
    WELL = N_("well")
    OFF = N_("not in use")


BAD = (Fare.WRONG, Fare.LOOK)
_ORDER = tuple(Fare)


@dataclass(frozen=True, slots=True)
class Part:
    """One part of the station. `words` are whole sentences that name no person and no device: others may read them.

    `page` is where there is more of it or something can be done about it; empty where there is no such page.
    """

    title: str
    fare: Fare
    words: str
    page: str = ""


@dataclass(frozen=True, slots=True)
class AddressLine:
    """An address of the page, when to take it, and its code for a camera as SVG."""

    url: str
    words: str
    code: str


@dataclass(frozen=True, slots=True)
class Paper:
    """Something to hang up or to work by. `warnings` are sentences; `drawing` None: they say why there is none."""

    warnings: Sequence[str]
    drawing: Drawing | None


class StationDesk(Protocol):
    """Called from many threads at once."""

    def parts(self) -> Sequence[Part]:
        """How every part fares now."""
        ...

    def addresses(self) -> Sequence[AddressLine]:
        """Under which addresses a phone reaches the page, the one that lasts first; none for this computer only."""
        ...

    def card(self) -> Paper:
        """What each tone, lamp and press of this bench means."""
        ...

    def wiring(self) -> Paper:
        """Which pin goes where, by the settings."""
        ...

    def sound(self) -> None:
        """Try the buzzer. Raises Refused while it would be mistaken for something else."""
        ...

    def bundle(self) -> bytes:
        """A zip for somebody who helps, without any secret."""
        ...


def worst_first(parts: Sequence[Part]) -> list[Part]:
    """Those that somebody should look at first; otherwise in their order."""
    return sorted(parts, key=lambda part: _ORDER.index(part.fare) if part.fare in BAD else len(_ORDER))


def in_all(parts: Sequence[Part]) -> str:
    """The whole station in a sentence."""
    bad = [part.title for part in worst_first(parts) if part.fare in BAD]
    match bad:
        case []:
            return t("All is well.")
        case _:
            named = ", ".join(map(t, bad))
            return tn("{n} thing needs a look: {parts}.", "{n} things need a look: {parts}.", len(bad), parts=named)
