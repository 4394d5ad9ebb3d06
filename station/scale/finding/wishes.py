"""What a search may wish of the world: to listen, to send a harmless query, to tell and to ask the person. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from station.scale.delivery import Delivery


@dataclass(frozen=True, slots=True)
class Listen:
    """Set the port, drop what lies in it, and answer with the bytes of the next `seconds`."""

    baud: int
    character: str
    seconds: float


@dataclass(frozen=True, slots=True)
class Query:
    """Send `data` and answer with the bytes of the next `seconds`. Only queries of the harmless list may be wished
    for."""

    baud: int
    character: str
    data: bytes
    seconds: float


@dataclass(frozen=True, slots=True)
class Tell:
    """Say what is being done."""

    words: str


@dataclass(frozen=True, slots=True)
class Confirm:
    """Ask a question; the answer is True, False, or None when nobody answers."""

    question: str


@dataclass(frozen=True, slots=True)
class AskShown:
    """Ask what the scale's display shows now; the answer is the text typed, or None."""

    question: str


Wish = Listen | Query | Tell | Confirm | AskShown
Answer = bytes | bool | str | None


@dataclass(frozen=True, slots=True)
class Profile:
    """What was found out about one scale.

    `unit` is the one to take where the frames carry none, `worth` what one of the last digit counts where they carry no
    point, `cadence_s` the usual time between frames. `sure` says why, a sentence each.
    """

    port: str
    family: str
    baud: int
    character: str
    delivery: Delivery
    request: bytes | None = None
    unit: str | None = None
    worth: str = "1"
    decimals: int = 0
    cadence_s: float = 0.0
    sure: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class NotFound:
    """No scale was found: what was seen instead, and the likeliest causes with their cures."""

    saw: str
    causes: tuple[str, ...]
